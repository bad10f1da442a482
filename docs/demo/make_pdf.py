#!/usr/bin/env python3
"""Makes crossing-kit.pdf, the leaflet of an invented kit of about 2001, and pasted.txt, what copying its listing gives.

The leaflet prints crossing.asm as a word processor of that time would have: lines that are too long continue in the next
one, typographic quotes and dashes take the place of plain ones, and indents come and go. The bytes are the same at
every run: no date, no packing.
"""
import pathlib
import re

HERE = pathlib.Path(__file__).parent
WIDTH, HEIGHT, LEFT, RIGHT = 595, 842, 72, 523
KIT = "Halt Lane Crossing"

# Characters beyond ASCII, with their codes in the fonts of the leaflet (WinAnsiEncoding, and two ligatures added).
CODES = {"\u2018": 0x91, "\u2019": 0x92, "\u201c": 0x93, "\u201d": 0x94, "\u2013": 0x96, "\u2014": 0x97, "\u2026": 0x85, "\u00a0": 0xA0,
         "\u00b5": 0xB5, "\u00b0": 0xB0, "\u2022": 0x95, "\u00bd": 0xBD, "\ufb01": 0x81, "\ufb02": 0x8D}

# Widths of Times-Roman, in thousandths of its size, from ' ' to '~' (Adobe's metrics of the standard fonts).
TIMES = [250, 333, 408, 500, 500, 833, 778, 180, 333, 333, 500, 564, 250, 333, 250, 278] + [500] * 10 + [
    278, 278, 564, 564, 564, 444, 921, 722, 667, 667, 722, 611, 556, 722, 722, 333, 389, 722, 611, 889, 722, 722, 556, 722, 667,
    556, 611, 722, 722, 944, 722, 722, 611, 333, 278, 333, 469, 500, 333, 444, 500, 444, 500, 444, 333, 500, 500, 278, 278, 500,
    278, 778, 500, 500, 500, 500, 333, 389, 278, 500, 500, 722, 500, 500, 444, 480, 200, 480, 541]


def width(text, size):
    return sum(TIMES[ord(c) - 32] if " " <= c <= "~" else 444 for c in text) * size / 1000


class Page:
    """The drawing operations of one page; y counts from the top."""

    def __init__(self):
        self.parts = []

    def text(self, x, y, text, font="T", size=10.5):
        out = []
        for c in text:
            code = CODES.get(c, ord(c))
            out.append("\\" + c if c in "()\\" else c if code < 127 else f"\\{code:03o}")
        self.parts.append(f"BT /{font} {size:g} Tf {x:.2f} {HEIGHT - y:.2f} Td ({''.join(out)}) Tj ET")

    def right(self, x, y, text, size):
        self.text(x - sum(0.278 if c in " .,il:" else 0.54 for c in text) * size, y, text, "H", size)

    def paragraph(self, y, text, x=LEFT, size=10.5, leading=13.5, to=RIGHT):
        line = ""
        for word in text.split():
            if line and width(line + " " + word, size) > to - x:
                self.text(x, y, line, "T", size)
                y, line = y + leading, word
            else:
                line = (line + " " + word).strip()
        self.text(x, y, line, "T", size)
        return y + leading * 1.45

    def heading(self, y, text, size=13):
        self.text(LEFT, y, text, "B", size)
        return y + size * 1.45

    def draw(self, operations):
        self.parts.append(operations)

    def line(self, x1, y1, x2, y2, wide=0.6):
        self.draw(f"{wide:g} w {x1:g} {HEIGHT - y1:g} m {x2:g} {HEIGHT - y2:g} l S")

    def box(self, x, y, wide, high, how="S"):
        self.draw(f"0.8 w {x:g} {HEIGHT - y - high:g} {wide:g} {high:g} re {how}")

    def circle(self, x, y, r, how="S"):
        y, k = HEIGHT - y, r * 0.5523
        self.draw(f"1 w {x + r:g} {y:g} m {x + r:g} {y + k:.2f} {x + k:.2f} {y + r:g} {x:g} {y + r:g} c "
                  f"{x - k:.2f} {y + r:g} {x - r:g} {y + k:.2f} {x - r:g} {y:g} c {x - r:g} {y - k:.2f} {x - k:.2f} {y - r:g} {x:g} {y - r:g} c "
                  f"{x + k:.2f} {y - r:g} {x + r:g} {y - k:.2f} {x + r:g} {y:g} c {how}")

    def frame(self, number, of):
        self.text(LEFT, 46, KIT, "H", 8)
        self.right(RIGHT, 46, "Halt Lane Works, kit 7", 8)
        self.line(LEFT, 51, RIGHT, 51, 0.4)
        self.line(LEFT, 792, RIGHT, 792, 0.4)
        self.text(LEFT, 803, "Issue 2, September 2001", "H", 8)
        self.right(RIGHT, 803, f"Page {number} of {of}", 8)


def cover():
    p = Page()
    p.text(LEFT, 104, KIT, "B", 30)
    p.text(LEFT, 128, "Flashing lamps and a bell for the level crossing of a garden railway", "I", 13)
    # The crossing board: a lamp on either side of a post, and the crossed boards above.
    p.draw("0.15 g")
    p.box(292, 205, 11, 165, "f")
    p.box(225, 236, 145, 44, "f")
    p.draw("1 1 1 rg")
    p.circle(250, 258, 16, "f")
    p.draw("0.75 g")
    p.circle(345, 258, 16, "f")
    p.draw("0 g")
    for x1, y1, x2, y2 in ((235, 222, 360, 168), (235, 168, 360, 222)):
        p.line(x1, y1, x2, y2, 13)
        p.draw("1 G")
        p.line(x1 + 3, y1 + (y2 - y1) * 0.024, x2 - 3, y2 - (y2 - y1) * 0.024, 9)
        p.draw("0 G")
    p.line(150, 372, 445, 372, 2)
    p.line(150, 380, 445, 380, 2)
    y = p.heading(424, "What it does")
    y = p.paragraph(y, "When a train runs over the sensor, the two red lamps of the crossing begin to \ufb02ash in turn and the bell rings. They go on "
                       "for eight seconds after the last wagon has left the sensor, and then the crossing falls silent until the next train. A link on the "
                       "board keeps the bell quiet in the evening; the lamps \ufb02ash all the same.")
    y = p.paragraph(y, "All of this is done by one chip, a PIC16F84A, and a handful of parts around it. The chip in the kit comes programmed. "
                       "The whole program is printed at the end of this lea\ufb02et, for those who like to know, and for those who want a longer ring.")
    y = p.heading(y + 6, "How it works")
    y = p.paragraph(y, "The sensor is a reed switch between the sleepers and a magnet under the \ufb01rst and the last wagon. It pulls pin 6 (RB0) low. Reed "
                       "switches bounce, so the program looks eight times, ten milliseconds apart, and believes the switch only if it was closed every time.")
    y = p.paragraph(y, "Then the lamps on pins 7 and 8 (RB1 and RB2) change places every half second. A half second is cut into eight slices, "
                       "and a small table in the program says in which of them the clapper is pulled through pin 9 (RB3). Eight rows of "
                       "the table make the pattern of the bell; change the rows, and you have a bell of your own.")
    p.paragraph(y, "How long the lamps go on is kept in the \ufb01rst cell of the chip\u2019s EEPROM, counted in half seconds.")
    return p


def parts():
    p = Page()
    y = p.heading(84, "The board")
    p.box(90, 96, 90, 40)
    p.text(104, 113, "Train sensor", "H", 9)
    p.text(104, 126, "(reed switch)", "H", 9)
    p.box(240, 96, 100, 74)
    p.text(262, 130, "PIC16F84A", "B", 10)
    p.text(262, 144, "4 MHz crystal", "H", 8)
    p.box(400, 96, 90, 30)
    p.text(414, 115, "Lamps A, B", "H", 9)
    p.box(400, 140, 90, 30)
    p.text(414, 159, "Bell, 12 V", "H", 9)
    p.line(180, 116, 240, 116, 1)
    p.line(340, 111, 400, 111, 1)
    p.line(340, 155, 400, 155, 1)
    p.text(188, 112, "RB0", "H", 7)
    p.text(346, 107, "RB1, RB2", "H", 7)
    p.text(346, 151, "RB3", "H", 7)
    y = p.heading(204, "Parts list")
    table = [("R1, R2, R3", "1k", "resistors, quarter watt (bases of Q1 to Q3)"), ("R4", "10k", "resistor, quarter watt (reset)"),
             ("C1, C2", "22 pF", "ceramic capacitors"), ("C3", "100 nF", "ceramic capacitor, close to the chip"),
             ("C4", "470 \u00b5F", "electrolytic capacitor, 25 V: mind the polarity"), ("D1", "1N4001", "diode across the bell"),
             ("D2", "1N4001", "diode in the supply lead"), ("Q1, Q2", "BC337", "transistors for the lamps"),
             ("Q3", "BD135", "transistor for the bell"), ("IC1", "PIC16F84A-04/P", "programmed; with an 18-pin socket"),
             ("IC2", "78L05", "regulator, 5 V"), ("X1", "4 MHz", "crystal"), ("S1", "", "reed switch in a glass tube"), ("J1", "", "two pins and a link (night)")]
    for x, text in ((LEFT, "Part"), (LEFT + 80, "Value"), (LEFT + 180, "What it is")):
        p.text(x, y, text, "B", 9.5)
    p.line(LEFT, y + 4, RIGHT, y + 4)
    y += 17
    for part, value, what in table:
        p.text(LEFT, y, part, "T", 10)
        p.text(LEFT + 80, y, value, "T", 10)
        p.text(LEFT + 180, y, what, "T", 10)
        y += 14
    p.line(LEFT, y - 7, RIGHT, y - 7)
    y = p.heading(y + 22, "Putting it together")
    steps = ["Solder the \ufb02at parts \ufb01rst: resistors, diodes (the ring goes to the wide line on the board), then the socket with its notch to the left.",
             "Fit the capacitors and the crystal. The long leg of C4 goes to the hole marked +.",
             "Fit the transistors and IC2 as drawn on the board. Do not fit IC1 yet.",
             "Connect 12 V and measure between pins 14 and 5 of the socket: it must be between 4.8 and 5.2 V. If it is not, look for a bridge of solder.",
             "Disconnect the supply, wait a minute, and push IC1 into its socket, notch to notch.",
             "Connect the lamps, the bell and the reed switch. Hold a magnet to the switch: lamp B lights, and the bell strikes twice."]
    for number, step in enumerate(steps, 1):
        p.text(LEFT, y, f"{number}.", "T", 10.5)
        y = p.paragraph(y, step, LEFT + 18) - 3
    return p


def cautions():
    p = Page()
    y = p.heading(84, "Please read this before you connect anything")
    y = p.paragraph(118, "Low voltage only. The board is made for 12 V from a ready-made, tested safety supply of at most 1 A with a fuse. Never connect any part "
                         "of it to the mains, and do not build a mains supply into the same box.")
    y = p.paragraph(y, "Out of doors, keep the supply indoors or in a box that is made for wet places, and bring only the 12 V outside. What your country or town "
                       "asks for wiring in gardens goes before anything in this lea\ufb02et; if in doubt, ask an electrician.")
    y = p.paragraph(y, "This is a toy. It must never be used where it guards people against real vehicles. Small parts and magnets are nothing for small children: "
                       "a swallowed magnet is a case for the hospital at once.")
    p.box(LEFT - 8, 100, RIGHT - LEFT + 16, y - 112)
    y = p.heading(y + 18, "If it does not work")
    for what, why in (("Nothing lights up", "Measure the 5 V. Is IC1 the right way round? Pin 4 must be at 5 V too."),
                      ("The lamps stay dark, the bell rings", "Q1 or Q2 is turned, or the lamps take more than a quarter of an ampere."),
                      ("It never stops", "The reed switch sticks, or a magnet lies too near. Pin 6 must be at 5 V without a train."),
                      ("The bell is silent", "Take the link J1 off."),
                      ("It resets when the bell strikes", "D1 is missing or turned, or C4 is dry.")):
        p.text(LEFT, y, what, "I", 10.5)
        y = p.paragraph(y, why, LEFT + 190) - 2
    y = p.heading(y + 14, "Changing the program")
    y = p.paragraph(y, "You need a programmer for the PIC16F84A and something to turn the listing into a HEX \ufb01le. The chip is programmed out of the board: its "
                       "programming pin sees about 13 V, which the parts around it would not survive. Do not switch the code protection on unless you mean it: "
                       "a protected chip can be erased as a whole, but no longer be read and compared.")
    y = p.paragraph(y, "The settings are: crystal (XT), watchdog off, power-up timer on, code protection off. The listing says so in its second block of lines; if your "
                       "programmer asks, tell it the same.")
    p.paragraph(y, "The listing may be copied and changed freely for a railway of your own. We would love to hear of it.")
    return p


# What typesetting did to single lines: the line of the source, and the print.
SINGLE = [
    (r"(\s+)__CONFIG _CP_OFF & _WDT_OFF & _PWRTE_ON & _XT_OSC", "\\1__CONFIG _CP_OFF &\n_WDT_OFF & _PWRTE_ON\n& _XT_OSC"),
    (r"^ +retfie", "retfie"),
    (r"^ +movwf   lamps", "movwf   lamps"),
    (r"^ +movwf   TRISA ", "movwf   TRISA "),
    (r"^ +goto    half", "goto    half"),
    (r"^ +clrf    place", "  clrf    place"),
    (r"^idle1   call    look", "    idle1   call    look"),
    (r"^quiet   movlw", "   quiet   movlw"),
    (r"^pause2  clrf", "  pause2  clrf"),
    (r"call    recall", "call\u00a0\u00a0\u00a0\u00a0recall"),
    (r"^        movwf   hold", "\u00a0" * 8 + "movwf   hold"),
    (r"bcf     STATUS,RP0$", "bcf     STATUS,\u00a0RP0"),
    (r'"HALT LANE"', "\u201cHALT LANE\u201d"),
    (r"d'13'", "d\u201813\u2019"),
    (r"; still there, the", "; still there \u2013 the"),
    (r"; link fitted: no bell, the", "; link fitted \u2014 no bell, the"),
]


def printed(source, columns=66):
    """The listing as it is printed, line by line."""
    out = []
    for line in source:
        code, mark, comment = line.partition(";")
        for pattern, print_ in SINGLE:
            line = re.sub(pattern, lambda m: m.expand(print_) if "\\" in print_ else print_, line)
        line = re.sub(r"\b([bd])'([0-9]+)'", lambda m: f"{m[1]}\u2019{m[2]}\u2019", line)
        if mark:
            at = line.index(";")
            line = line[:at] + line[at:].replace("'", "\u2019").replace("fi", "\ufb01").replace("fl", "\ufb02")
        for piece in line.split("\n"):
            while len(piece) > columns:
                cut = piece.rindex(" ", 0, columns + 1)
                out.append(piece[:cut].rstrip(" "))
                piece = piece[cut + 1:]
            out.append(piece.rstrip(" "))
    return out


def listing(lines, first_page, per_page, of):
    """The pages of the listing, and what copying them out of a viewer gives: no indents, one blank for several."""
    pages, pasted = [], []
    for start in range(0, len(lines), per_page):
        p = Page()
        number = first_page + start // per_page
        y = 74
        if start == 0:
            y = p.heading(80, "The program")
        pasted += [KIT + " Halt Lane Works, kit 7"]
        if start == 0:
            pasted += ["The program"]
        for line in lines[start:start + per_page]:
            if line.strip():
                p.text(LEFT, y, line, "C", 10)
                pasted.append(re.sub(r"[ \u00a0]+", " ", line).strip())
            y += 11.4
        pasted += ["Issue 2, September 2001 " + f"Page {number} of {of}"]
        pages.append(p)
    return pages, pasted


def write(pages, path):
    fonts = {"T": "Times-Roman", "I": "Times-Italic", "B": "Helvetica-Bold", "H": "Helvetica", "C": "Courier"}
    encoding = "<</Type/Encoding/BaseEncoding/WinAnsiEncoding/Differences[129/fi 141/fl]>>"
    kids = " ".join(f"{10 + 2 * i} 0 R" for i in range(len(pages)))
    resources = "<</Font<<" + "".join(f"/{key} {5 + i} 0 R" for i, key in enumerate(fonts)) + ">>>>"
    objects = ["<</Type/Catalog/Pages 2 0 R>>", f"<</Type/Pages/Kids[{kids}]/Count {len(pages)}>>", f"<</Title({KIT})/Author(Halt Lane Works)>>", encoding]
    objects += [f"<</Type/Font/Subtype/Type1/BaseFont/{name}/Encoding 4 0 R>>" for name in fonts.values()]
    for i, page in enumerate(pages):
        content = "\n".join(page.parts)
        objects += [f"<</Type/Page/Parent 2 0 R/MediaBox[0 0 {WIDTH} {HEIGHT}]/Resources {resources}/Contents {11 + 2 * i} 0 R>>",
                    f"<</Length {len(content)}>>\nstream\n{content}\nendstream"]
    out = b"%PDF-1.3\n%\xe2\xe3\xcf\xd3\n"
    offsets = []
    for number, body in enumerate(objects, 1):
        offsets.append(len(out))
        out += f"{number} 0 obj\n{body}\nendobj\n".encode("ascii")
    table = len(out)
    out += f"xref\n0 {len(objects) + 1}\n0000000000 65535 f \n".encode("ascii")
    out += b"".join(f"{offset:010d} 00000 n \n".encode("ascii") for offset in offsets)
    out += f"trailer\n<</Size {len(objects) + 1}/Root 1 0 R/Info 3 0 R>>\nstartxref\n{table}\n%%EOF\n".encode("ascii")
    path.write_bytes(out)


def main():
    lines = printed((HERE / "crossing.asm").read_text("utf-8").splitlines())
    per_page = 61
    of = 3 + -(-len(lines) // per_page)
    program, pasted = listing(lines, 4, per_page, of)
    pages = [cover(), parts(), cautions()] + program
    for number, page in enumerate(pages, 1):
        page.frame(number, of)
    write(pages, HERE / "crossing-kit.pdf")
    (HERE / "pasted.txt").write_bytes(("\n".join(pasted) + "\n").encode("utf-8"))


if __name__ == "__main__":
    main()
