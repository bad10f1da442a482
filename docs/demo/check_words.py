#!/usr/bin/env python3
"""Works out every word of crossing.asm again from the fields in crossing-words.md, and compares crossing.hex with them.

    check_words.py            compares; says what differs and ends with 1
    check_words.py --write    writes crossing.hex from the page

Only what the page says is used: the bits of each operation and its fields d, f, b and k. The names and the source lines
in the page are compared with crossing.asm, so that neither can drift. Nothing of the program that this project builds is used.
"""
import pathlib
import re
import sys

HERE = pathlib.Path(__file__).parent
FAULTS = []

# The instruction set, 14 bits each, as in table 7-2 of the PIC16F84A data sheet (DS35007B).
TABLE = """
addwf 000111dfffffff  andwf 000101dfffffff  clrf 0000011fffffff  comf 001001dfffffff  decf 000011dfffffff
decfsz 001011dfffffff incf 001010dfffffff   incfsz 001111dfffffff iorwf 000100dfffffff movf 001000dfffffff
movwf 0000001fffffff  rlf 001101dfffffff    rrf 001100dfffffff   subwf 000010dfffffff swapf 001110dfffffff
xorwf 000110dfffffff  bcf 0100bbbfffffff    bsf 0101bbbfffffff   btfsc 0110bbbfffffff btfss 0111bbbfffffff
addlw 111110kkkkkkkk  andlw 111001kkkkkkkk  call 100kkkkkkkkkkk  clrwdt 00000001100100 goto 101kkkkkkkkkkk
iorlw 111000kkkkkkkk  movlw 110000kkkkkkkk  retfie 00000000001001 retlw 110100kkkkkkkk return 00000000001000
sleep 00000001100011  sublw 111100kkkkkkkk  xorlw 111010kkkkkkkk nop 00000000000000
""".split()
BITS = dict(zip(TABLE[0::2], TABLE[1::2]))


def fault(text):
    FAULTS.append(text)


def rows(page, heading):
    """The rows of the table below a heading, as lists of cells."""
    part = page.split("## " + heading + "\n", 1)[1].split("\n## ", 1)[0]
    table = [line for line in part.splitlines() if line.startswith("|")]
    return [[cell.strip().strip("`") for cell in line.strip("|").split("|")] for line in table[2:]]


def number(text, names):
    """The value of one operand: the radix is hexadecimal unless the notation says another one."""
    for form, base in ((r"d'(\d+)'", 10), (r"b'([01]+)'", 2), (r"0x([0-9a-f]+)", 16), (r"([0-9][0-9a-f]*)", 16)):
        match = re.fullmatch(form, text, re.I)
        if match:
            return int(match.group(1), base)
    if text in names:
        return names[text]
    fault(f"{text!r} is neither a number nor a name of the page")
    return 0


def code_of(line):
    """Label, operation and operands of a source line without its comment."""
    code = line.split(";")[0].rstrip()
    label = "" if code[:1] in ("", " ") else code.split()[0]
    rest = code[len(label):].split(None, 1)
    return label, rest[0] if rest else "", [o.strip() for o in rest[1].split(",")] if len(rest) > 1 else []


def check_names(page, source):
    """The page's names, each compared with the line of the source that gives it."""
    names = {}
    for name, value, line, why in rows(page, "Names"):
        names[name] = int(value, 0)
        if line == "-":
            continue
        label, operation, operands = code_of(source[int(line) - 1])
        if operation == "equ":
            if label != name or number(operands[0], {}) != names[name]:
                fault(f"{name}: line {line} gives something else")
        elif name not in (label, operation):
            fault(f"{name} is not in line {line}")
    return names


def check_program(page, source, names):
    words = {}
    expected = 0
    for address, line, text, bits, d, f, b, k, word in rows(page, "Program"):
        address, word = int(address, 16), int(word, 16)
        where = f"0x{address:04X} (line {line})"
        label, operation, operands = code_of(source[int(line) - 1])
        if " ".join(text.split()) != " ".join(source[int(line) - 1].split(";")[0].split()):
            fault(f"{where}: the page does not show that line")
        if operation not in BITS or bits.replace(" ", "") != BITS[operation]:
            fault(f"{where}: not the bits of {operation}")
            continue
        if address != expected and address not in (0, 4):
            fault(f"{where}: a gap before it")
        expected = address + 1
        if label and names.get(label) != address:
            fault(f"{where}: the label {label} is said to be elsewhere")
        given = {"d": d, "f": f, "b": b, "k": k}
        built = BITS[operation]
        for letter, value in given.items():
            width = built.count(letter)
            if (width == 0) != (value == ""):
                fault(f"{where}: field {letter}")
            elif width:
                if int(value, 0) >> width:
                    fault(f"{where}: field {letter} is too wide")
                built = built.replace(letter * width, format(int(value, 0), f"0{width}b"))
        if int(built, 2) != word:
            fault(f"{where}: the fields give 0x{int(built, 2):04X}, not 0x{word:04X}")
        # The fields have to be what the operands mean.
        kinds = [letter for letter in "fbdk" if given[letter] != ""]
        if len(kinds) != len(operands):
            fault(f"{where}: {len(operands)} operands")
        for letter, operand in zip(kinds, operands):
            value = number(operand, {**names, "w": 0, "f": 1} if letter == "d" else names)
            if letter == "f":
                value &= 0x7F  # the bank is chosen by RP0, not by the word
            if value != int(given[letter], 0):
                fault(f"{where}: {operand} is 0x{value:X}, field {letter} says {given[letter]}")
        words[address] = word
    in_source = [n for n, line in enumerate(source, 1) if code_of(line)[1] in BITS]
    in_page = [int(row[1]) for row in rows(page, "Program")]
    if in_source != in_page:
        fault("the page leaves out a line, or shows one twice: " + str(sorted(set(in_source) ^ set(in_page))))
    return words


def check_configuration(page, words):
    value = 0x3FFF
    for name, mask, setting in rows(page, "Configuration"):
        if name != "word":
            value &= 0x3FFF & ~int(mask, 16) | int(setting, 16)
        elif value != int(setting, 16):
            fault(f"configuration: the fields give 0x{value:04X}, not {setting}")
    words[0x2007] = value


def check_eeprom(page, source, words):
    for address, line, text, value in rows(page, "EEPROM"):
        operands = ",".join(code_of(source[int(line) - 1])[2])
        if text.strip("'") not in operands:
            fault(f"EEPROM {address}: {text} is not in line {line}")
        meant = ord(text.strip("'")) if len(text) == 3 and text[0] == "'" else number(text, {})
        if meant != int(value, 16):
            fault(f"EEPROM {address}: {text} is 0x{meant:02X}")
        words[0x2100 + int(address, 16)] = int(value, 16)


def records(words):
    """The HEX file: a word is two bytes, the lower one first, so it is at twice its address."""
    def record(address, kind, data):
        body = bytes([len(data), address >> 8, address & 0xFF, kind]) + data
        return ":" + (body + bytes([-sum(body) & 0xFF])).hex().upper()

    lines = []
    pending, start = b"", 0
    for address in sorted(words):
        at = address * 2
        if pending and (at != start + len(pending) or len(pending) == 16):
            lines.append(record(start, 0, pending))
            pending = b""
        if not pending:
            start = at
        pending += words[address].to_bytes(2, "little")
    lines += [record(start, 0, pending), record(0, 1, b"")]
    return "".join(line + "\r\n" for line in lines).encode("ascii")


def main():
    page = (HERE / "crossing-words.md").read_text("utf-8")
    source = (HERE / "crossing.asm").read_text("utf-8").splitlines()
    names = check_names(page, source)
    words = check_program(page, source, names)
    check_configuration(page, words)
    check_eeprom(page, source, words)
    built = records(words)
    target = HERE / "crossing.hex"
    if FAULTS:
        print("\n".join(FAULTS))
        return 1
    if "--write" in sys.argv[1:]:
        target.write_bytes(built)
    elif target.read_bytes() != built:
        print("crossing.hex is not what the page gives")
        return 1
    print(f"{len(words)} words agree")
    return 0


sys.exit(main())
