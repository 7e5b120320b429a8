"""Type to find: any action, section, part, bar and setting by its words."""
