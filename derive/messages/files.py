"""Sentences about a file: that it cannot be had, or what is wrong with its form and how to mend it."""

from __future__ import annotations

FILES: dict[str, tuple[str, ...]] = {
    # --- a file that cannot be had ----------------------------------------------------------------------
    "file.missing": ("There is no file {name} here. Check the name, and the folder it is in.",),
    "file.folder": ("{name} is a folder. Name the files in it, for instance {name}/*.txt.",),
    "file.denied": ("You may not read {name}. Ask for the right to, or copy its text to a file of your own.",),
    "file.failed": ("{name} could not be read ({why}). Check the name, or copy its text to a new file.",),
    "file.defect": (
        "Thence itself failed at {name}, which says nothing against the file. A person should look at it.",
    ),
    "file.too_big": (
        "The file is larger than {limit}, which no working needs. Is it the right file?",
        "The file is larger than any working needs. Is it the right file?",
    ),
    "file.too_long": (
        "Only the first {limit} lines were read. Split the working into several files.",
        "Not all lines were read. Split the working into several files.",
    ),
    "file.binary": ("This is not a text file. Save the working as plain text (UTF-8) and name that file.",),
    "file.empty": ("There is nothing in this file. Type the working, one line under the other, and save it.",),
    "file.encoding": ("The letters of this file could not be made out. Save it as plain text in UTF-8.",),
    # --- a heading ----------------------------------------------------------------------------------------
    "heading.meant": (
        "“{typed}:” was taken as the heading {meant}. Write “{meant}:” alone on its line.",
    ),
    "heading.unknown": (
        "“{typed}:” is not a heading Thence knows, so the lines under it were not read. The headings are {headings}.",
        "This is not a heading Thence knows, so the lines under it were not read.",
    ),
    "exercise.unknown": (
        "No exercise called “{name}” was found beside the working or among those shipped. Nearest: {nearest}.",
        "No exercise called “{name}” was found beside the working or among those shipped. Give its file with "
        "--exercise FILE.",
    ),
    # --- the lines of a file ------------------------------------------------------------------------------
    "working.none": ("There is no working to check. Type “Working:” on a line of its own and the steps below it.",),
    "label.twice": ("The label ({label}) stands at two lines, and a reason names it. Give one of them another label.",),
    # --- the rows of a table of symbols ------------------------------------------------------------------
    "symbols.no_colon": ("“{typed}” declares nothing. Type the name, a colon and the unit, as in “m : kg, positive”.",),
    "symbols.no_name": ("“{typed}” is not a name. Type a letter, with a subscript if need be, as in “v_0 : m/s”.",),
    "symbols.twice": ("{name} is declared twice. Keep one of the two rows.",),
    "symbols.too_long": ("This row is longer than {limit} characters. Declare one name, and keep its note short.",),
    "symbols.too_many": (
        "More than {limit} rows of symbols; from here on none is read. Keep those that the working needs.",
    ),
    "symbols.unit": (
        "“{typed}” is not a unit. Did you mean {nearest}? Notes go after “--”.",
        "“{typed}” could not be read as a unit: {hint}.",
        "“{typed}” is neither a unit nor a word known here. Type a unit as in “kg/m^3”, and notes after “--”.",
    ),
    "symbols.two_units": ("{name} has a unit already, so “{typed}” is one too many. Keep one unit.",),
    "symbols.word": ("“{typed}” is not known here. Did you mean “{nearest}”?",),
    "symbols.number": (
        "“{typed}” gives {name} a value. Type “about …” for a typical value, or put it under “Given:”.",
    ),
    "symbols.bound": ("The range “{typed}” could not be read. Type it as in “0 < {name} < 1”.",),
    "symbols.about": ("“{typed}” could not be read. Type a number after “about”, as in “about 40”.",),
    "symbols.about_unit": (
        "“{typed}” is not in {unit}, the unit of {name}. Type the value in that unit.",
        "“{typed}” does not have the dimension of {name}. Type the value in the unit of {name}.",
    ),
    "symbols.small": (
        "{name} has a unit, so it is small only beside something. Say beside what, as in “{name} << L”.",
    ),
    # --- how a file was read where it was not typed in so many words ----------------------------------------
    "read.notes": ("Taken as words about a symbol: {pieces}. Such a note may also stand after “--”.",),
    "read.given": ("Taken as given, though it stands among the symbols: {pieces}. The place for it is “Given:”.",),
    "read.working": (
        "There is no heading for the working, so it was taken to begin in line {line}. Type “Working:” above that.",
    ),
    "read.bullets": (
        "The dashes at the beginning of the lines under “{heading}:” were taken as bullets, not as minus signs.",
        "The dashes at the beginning of the lines were taken as bullets, not as minus signs.",
    ),
    # --- the rows of a mark scheme --------------------------------------------------------------------------
    "marks.no_label": ("A mark point begins with its label. Type it as in “(p1)  M2  F = m a”.",),
    "marks.no_kind": ("After the label comes the kind of mark and how many: type M1, A1 or B1.",),
    "marks.count": ("A point carries 1 to {most} marks. Type a number in that range.",),
    "marks.no_claim": ("This point says nothing that a line could meet. Type the relation after the marks.",),
    "marks.twice": ("The label ({label}) is used twice. Give each point its own label.",),
    "marks.too_many": ("More than {limit} points; from here on none is read. Keep those that carry marks.",),
    "marks.needs_itself": ("Point ({label}) needs itself. Name the point that has to be met first, or leave it out.",),
    "marks.needs_unknown": (
        "There is no point ({need}). Did you mean ({nearest})?",
        "There is no point ({need}). Name one of the points above.",
    ),
    "marks.needs_later": ("Point ({label}) needs ({need}), which comes after it. Put ({need}) first.",),
    # --- a working and its exercise -------------------------------------------------------------------------
    "exercise.clash": (
        "{name} is declared in the exercise already ({unit}), which holds. Remove your row, or use another letter.",
    ),
    "exercise.given_added": (
        "The exercise does not give this, so it is not used. Move it into the working and show it there.",
    ),
    "exercise.show_added": (
        "What is to be shown is set by the exercise, so this is not used. Remove it, or move it into the working.",
    ),
}
