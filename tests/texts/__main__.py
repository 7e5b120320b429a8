"""`python -m tests.texts`: bring all catalogues up to the texts of the code, and compile them.

Run it after a text was added or changed, then translate what it lists, and run it again.
`python -m tests.texts LANGUAGE` lists what is untranslated in one language.
"""

import sys

from tests.texts.catalogues import as_mo, as_po, languages, po_path, read, template, updated

texts = template()
for language in sys.argv[1:] or languages():
    path = po_path(language)
    path.write_bytes(as_po(updated(language, texts)))
    catalogue = read(language)
    path.with_suffix(".mo").write_bytes(as_mo(catalogue))
    missing = [one.id for one in catalogue if one.id and not one.string]
    print(f"{language}: {len(catalogue)} texts, {len(missing)} to translate")
    if sys.argv[1:]:
        print(*missing, sep="\n")
