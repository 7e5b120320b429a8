"""The program's texts in the user's language: ``_("Save")``.

Catalogues lie in ``resources/translations`` as gettext keeps them; where there is none for the
user's language, the texts stay as they are written in the code, in English.
"""

from __future__ import annotations

import gettext
from typing import Final

from chalkfret.places import RESOURCES

_TRANSLATION: Final = gettext.translation("chalkfret", RESOURCES / "translations", fallback=True)

_ = _TRANSLATION.gettext
ngettext = _TRANSLATION.ngettext
