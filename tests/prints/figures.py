"""Prints of a listing among the other things that pages hold: flow charts, tables of pins, captions, side headings, frames around the listing or its
rows, page headers that change from page to page. As layouts.py; knows nothing of how prints are recovered."""
import html, os, textwrap
from layouts import PROSE, chromium, gutter, hard, page, put, run

STEPS = ['START', 'COUNT=COUNT+1', 'Is key = 0?', 'PORTB = 0xFF', 'DELAY 20 MS', 'CALL BEEP', 'RETURN', 'TURN = TURN-1', 'RA1 = 1', 'LAMP ON', 'GOTO START', 'Motor off', 'A/D ready?', 'SLEEP']
CAPTIONS = ['Figure {}. The lamp is switched by transistor T{}', 'Fig. {}: Signals at pin RB{}', 'Table {}. Bits of the register of key {}', 'Listing {} - continued from page {}', 'Abb. {}: Aufbau der Platine {}', 'Photo {}: the finished board, {} cm wide']
PINS = [('RA0', 'key'), ('RA1', 'lamp'), ('RB0', 'INT'), ('RB4', 'motor'), ('VSS', '0 V'), ('VDD', '5 V'), ('bit 3', 'Z'), ('bit 0', 'C'), ('OSC1', '4 MHz'), ('MCLR', '10 k to VDD')]
NUMBERS = [lambda n: str(n), lambda n: f'- {n} -', lambda n: f'Page {n} of 12', lambda n: f'3-{n}', lambda n: ROMAN[n], lambda n: f'{n}/12', lambda n: f'Seite {n}', lambda n: f'[{n}]', lambda n: f'p. {n}', lambda n: f'A-{n}', lambda n: f'\u2013 {n} \u2013']
ROMAN = ['', 'i', 'ii', 'iii', 'iv', 'v', 'vi', 'vii', 'viii', 'ix', 'x', 'xi', 'xii', 'xiii', 'xiv', 'xv', 'xvi', 'xvii', 'xviii', 'xix', 'xx', 'xxi', 'xxii', 'xxiii', 'xxiv']


class Sheet:
    """A listing drawn row by row, with what else the layouts put on its pages."""

    def __init__(self, folder, r, width=None, size=None):
        from reportlab.lib.pagesizes import A4
        from reportlab.pdfgen.canvas import Canvas
        self.paper, self.r = A4, r
        self.path = os.path.join(folder, 'd.pdf')
        self.canvas = Canvas(self.path, pagesize=A4)
        self.size = size or r.choice([7, 8, 9])
        self.step, self.left = self.size * r.choice([1.15, 1.25, 1.4]), 60
        self.rows = r.choice([40, 50, 58])
        self.top = A4[1] - 80

    def latin(self, text): return text.encode('latin1', 'replace').decode('latin1')

    def listing(self, rows):
        """Pages of rows with their heights."""
        for start in range(0, len(rows), self.rows):
            part = rows[start:start + self.rows]
            self.canvas.setFont('Courier', self.size)
            for i, row in enumerate(part): self.canvas.drawString(self.left, self.top - i * self.step, self.latin(row))
            yield start // self.rows + 1, part
            self.canvas.showPage()
        self.canvas.save()

    def width(self, row): return len(row) * self.size * .6

    def box(self, x, y, w, h, text, font='Helvetica', size=None, round_=False, fill=None):
        c, size = self.canvas, size or self.size
        if fill is not None: c.setFillGray(fill)
        (c.roundRect(x, y, w, h, 4, fill=fill is not None) if round_ else c.rect(x, y, w, h, fill=fill is not None))
        c.setFillGray(0)
        c.setFont(font, size)
        for k, line in enumerate(text.split('\n')): c.drawCentredString(x + w / 2, y + h - size * 1.2 * (k + 1) - 1, line)


def flow_chart(lines, words, r, folder):
    """A flow chart drawn to the right of the listing, its words on the base lines of rows."""
    sheet = Sheet(folder, r, size=7)
    rows = hard(lines, 64)
    font = r.choice(['Helvetica', 'Courier', 'Times-Roman'])
    for number, part in sheet.listing(rows):
        x, w = 380, r.choice([90, 110])
        at = r.randint(1, 5)
        last = None
        while at + 5 < len(part):
            high = 2.2 * sheet.step
            y = sheet.top - at * sheet.step - .8 * sheet.step
            kind = r.randrange(3)
            text = r.choice(STEPS)
            if kind == 2:
                p = sheet.canvas.beginPath()
                p.moveTo(x, y + high / 2); p.lineTo(x + w / 2, y + high); p.lineTo(x + w, y + high / 2); p.lineTo(x + w / 2, y); p.close()
                sheet.canvas.drawPath(p)
                sheet.canvas.setFont(font, 6)
                sheet.canvas.drawCentredString(x + w / 2, sheet.top - at * sheet.step, text)
                sheet.canvas.drawString(x + w + 3, sheet.top - at * sheet.step, r.choice(['yes', 'no', 'ja', 'Z = 1']))
            else:
                sheet.canvas.roundRect(x, y, w, high, 5) if kind else sheet.canvas.rect(x, y, w, high)
                sheet.canvas.setFont(font, 7)
                sheet.canvas.drawCentredString(x + w / 2, sheet.top - at * sheet.step, text)
            if last is not None:
                sheet.canvas.line(x + w / 2, last, x + w / 2, y + high)
                sheet.canvas.line(x + w / 2, y + high, x + w / 2 - 2, y + high + 4)
            last = y
            at += r.choice([4, 5, 6])
    return sheet.path


def captions(lines, words, r, folder):
    """Figures with their captions between the rows of the listing, some framed, some with words in them."""
    sheet = Sheet(folder, r)
    c = sheet.canvas
    y, number = sheet.top, 0
    rows = hard(lines, 84)
    font, size = r.choice([('Helvetica', sheet.size), ('Times-Italic', sheet.size + 1), ('Courier', sheet.size), ('Courier-Oblique', sheet.size)])
    at, n = 0, 0
    stops = sorted(r.sample(range(5, max(8, len(rows) - 3)), min(4, max(1, len(rows) // 30))))
    for i, row in enumerate(rows):
        if i in stops:
            n += 1
            high = r.choice([40, 70])
            if y - high - 40 < 60: c.showPage(); y = sheet.top
            if r.random() < .5: c.rect(sheet.left + 20, y - high - 4, 200, high)
            sheet.box(sheet.left + 40, y - high + 6, 70, 18, r.choice(STEPS), r.choice(['Helvetica', 'Courier']), 7)
            sheet.box(sheet.left + 130, y - high + 6, 70, 18, r.choice(STEPS), 'Helvetica', 7)
            c.line(sheet.left + 110, y - high + 15, sheet.left + 130, y - high + 15)
            y -= high + 16
            c.setFont(font, size)
            c.drawString(sheet.left + r.choice([0, 40]), y, r.choice(CAPTIONS).format(n, r.randint(1, 7)))
            y -= 2 * sheet.step
        if y < 60: c.showPage(); y = sheet.top
        c.setFont('Courier', sheet.size)
        c.drawString(sheet.left, y, sheet.latin(row))
        y -= sheet.step
    c.save()
    return sheet.path


def pin_table(lines, words, r, folder):
    """A table of pins and bits beside the listing, in a browser."""
    rows = hard(lines, 62)
    font = r.choice(['8pt sans-serif', '7pt monospace', '8pt serif'])
    body, at = '', 0
    for start in range(0, len(rows), 60):
        cells = ''.join(f'<tr><td>{a}<td>{b}' for a, b in r.sample(PINS, 6))
        body += f'<div><table>{cells}</table><p class=c>{r.choice(CAPTIONS).format(1 + start // 60, 3)}</p></div><pre>{html.escape(chr(10).join(rows[start:start + 60]))}</pre>'
    style = f'@page{{size:A4;margin:15mm}}pre{{font:7.5pt monospace;margin:0}}div{{float:right;clear:right;width:46mm}}table{{border-collapse:collapse;font:{font}}}td{{border:0.6pt solid black;padding:1pt 3pt}}.c{{font:7pt serif;margin:2pt}}'
    return chromium(folder, page(style, body))


def margin_heads(lines, words, r, folder):
    """Headings and notes in the margin, on base lines of the listing or between them."""
    sheet = Sheet(folder, r, size=7.5)
    sheet.left = 150
    font = r.choice(['Helvetica-Bold', 'Times-Bold', 'Courier-Bold', 'Courier'])
    for number, part in sheet.listing(hard(lines, 76)):
        at = r.randint(0, 4)
        while at < len(part):
            sheet.canvas.setFont(font, 8)
            for k, line in enumerate(r.choice(['Setup', 'Main loop', 'Delay', 'The key is\nread twice', 'Interrupt\nservice', 'Sleep', 'End of table', 'Call the\nbell'] ).split('\n')):
                sheet.canvas.drawString(40, sheet.top - (at + k) * sheet.step - r.choice([0, 0, 3]), line)
            at += r.randint(6, 14)
    return sheet.path


def changing_heads(lines, words, r, folder):
    """Headers that are on one page only, page numbers of many forms, in the type of the listing or another one."""
    sheet = Sheet(folder, r)
    sheet.rows = r.choice([30, 42])
    font = r.choice(['Helvetica', 'Times-Italic', 'Courier', 'Courier-Bold'])
    first, form, place = r.randint(1, 8), r.choice(NUMBERS), r.choice(['top', 'bottom'])
    heads = ['Chapter 3', 'The lamp', 'Boat electrics', 'Software', 'Notes on the board', 'Club paper 12', 'Main program', 'Appendix B', 'Delay', 'Test']
    r.shuffle(heads)
    width, half = sheet.paper[0], r.random() < .5
    for number, part in sheet.listing(hard(lines, 84)):
        sheet.canvas.setFont(font, r.choice([sheet.size, sheet.size + 1]) if font.startswith('Courier') else 9)
        if not half or number % 2: sheet.canvas.drawString(sheet.left, sheet.top + 30, heads[number % len(heads)])
        y = 30 if place == 'bottom' else sheet.top + 30
        if r.random() < .85: sheet.canvas.drawCentredString(width - 80 if place == 'top' else width / 2, y, form(first + number))
    return sheet.path


def one_head(lines, words, r, folder):
    """One page of several has a header; a title page before it."""
    sheet = Sheet(folder, r)
    c = sheet.canvas
    c.setFont('Times-Bold', 24); c.drawCentredString(300, 600, 'Boat lamp')
    c.setFont('Times-Roman', 12); c.drawCentredString(300, 560, 'with a PIC'); c.drawCentredString(300, 540, 'Spring 2003')
    c.showPage()
    sheet.rows = r.choice([30, 42])
    rows = hard(lines, 84)
    which = r.randint(1, max(1, (len(rows) + sheet.rows - 1) // sheet.rows))
    font = r.choice(['Helvetica', 'Times-Italic', 'Courier', 'Courier-Bold'])
    text = r.choice(['The program', 'Software of the lamp', 'Test', 'lamp.asm', 'Listing 2', 'Program continued', 'Elektor lamp 4/2003'.replace('Elektor', 'Club')])
    gap = r.choice([24, 34])
    for number, part in sheet.listing(rows):
        if number == which:
            c.setFont(font, sheet.size if font.startswith('Courier') else 9)
            c.drawString(sheet.left + r.choice([0, 120]), sheet.top + gap, text) if r.random() < .6 else c.drawString(sheet.left + r.choice([0, 120]), sheet.top - len(part) * sheet.step - gap, text)
    return sheet.path


def framed(lines, words, r, folder):
    """The whole listing in a box, or its rows shaded, or each row or cell of a table with borders: the frames are the listing's own."""
    size = r.choice([7, 7.5, 8])
    kind = r.randrange(6)
    rows = hard(lines, 90)
    text = html.escape(chr(10).join(rows))
    style = f'@page{{size:A4;margin:15mm}}pre,td{{font:{size}pt monospace;white-space:pre}}'
    if kind == 0: style, body = style + 'pre{border:1px solid black;padding:6px}', f'<pre>{text}</pre>'
    elif kind == 1: style, body = style + 'pre{background:#eee;padding:6px;border-radius:4px}', f'<pre>{text}</pre>'
    elif kind == 2: style, body = style + 'pre{margin:0}pre:nth-of-type(odd){background:#e4e4e4}', ''.join(f'<pre>{html.escape(l) or " "}</pre>' for l in rows)
    elif kind == 3: style, body = style + 'table{border-collapse:collapse}td{border:1px solid #888;padding:0 3pt}', '<table>' + ''.join(f'<tr><td>{i + 1}<td>{html.escape(l)}' for i, l in enumerate(rows)) + '</table>'
    elif kind == 4: style, body = style + 'code{background:#ddd;border:1px solid #bbb;white-space:pre-wrap;font:inherit}', '<pre>' + '\n'.join(f'<code>{html.escape(l)}</code>' for l in rows) + '</pre>'
    else: style, body = style + 'table{border:1px solid black;border-spacing:0}td{border-right:1px solid #888;padding:0 3pt;vertical-align:top}', f'<table><tr><td>{chr(10).join(str(i + 1) for i in range(len(rows)))}<td>{text}</table>'
    return chromium(folder, page(style, f'<p>{PROSE[0]}</p>{body}<p>{PROSE[1]}</p>'))


def boxed_report(lines, words, r, folder):
    """A box around the listing on each page, drawn with lines, and a note in a box of its own beside or below it."""
    sheet = Sheet(folder, r)
    rows = hard(lines, 84)
    c = sheet.canvas
    for number, part in sheet.listing(rows):
        low = sheet.top - (len(part) - 1) * sheet.step - 6
        if r.random() < .5: c.rect(sheet.left - 8, low, 430, sheet.top + sheet.step - low)
        else:
            for a in ((sheet.left - 8, low, sheet.left + 430, low), (sheet.left - 8, sheet.top + 10, sheet.left + 430, sheet.top + 10), (sheet.left - 8, low, sheet.left - 8, sheet.top + 10), (sheet.left + 430, low, sheet.left + 430, sheet.top + 10)): c.line(*a)
        sheet.box(sheet.left + 30, low - 44, 300, 30, r.choice(['Note: the fuse is F1\nMOVLW 0x20 makes it slow', 'Warning\nGOTO END is missing in the first print', 'COUNT EQU 0x20 is for the small board\nSee page 4']), r.choice(['Helvetica', 'Courier']), 8, fill=r.choice([None, .9]))
    return sheet.path


def screenshot(lines, words, r, folder):
    """A picture beside and between the rows, with words drawn over it."""
    from reportlab.lib.utils import ImageReader
    import io, struct, zlib
    width, height = 80, 50
    raw = b''.join(b'\0' + bytes([200 + (x + y) % 30 for x in range(width)]) for y in range(height))
    chunk = lambda kind, data: struct.pack('>I', len(data)) + kind + data + struct.pack('>I', zlib.crc32(kind + data))
    png = b'\x89PNG\r\n\x1a\n' + chunk(b'IHDR', struct.pack('>IIBBBBB', width, height, 8, 0, 0, 0, 0)) + chunk(b'IDAT', zlib.compress(raw)) + chunk(b'IEND', b'')
    sheet = Sheet(folder, r, size=7)
    for number, part in sheet.listing(hard(lines, 64)):
        for at in range(4, len(part) - 8, 18):
            y = sheet.top - (at + 6) * sheet.step
            sheet.canvas.drawImage(ImageReader(io.BytesIO(png)), 380, y, 150, 6 * sheet.step)
            sheet.canvas.setFont(r.choice(['Helvetica', 'Courier']), 7)
            for k in range(1, 5): sheet.canvas.drawString(390, sheet.top - (at + k) * sheet.step, r.choice(STEPS))
    return sheet.path


def pic_chart(lines, words, r, folder):
    """A flow chart by pic between the pieces of a listing, with a caption."""
    rows = hard(lines, 76)
    code = lambda part: '.nf\n.ft CR\n.ps 8\n.vs 10\n' + '\n'.join('\\&' + l.replace('\\', '\\e').replace('-', '\\-').replace("'", '\\[aq]') for l in part) + '\n.ft R\n.fi\n'
    chart = lambda: '.PS\nboxht=0.3; boxwid=1.1\n' + '\narrow right 0.2\n'.join(r.choice(['box', 'ellipse wid 1.2', 'box rad 0.1']) + f' "{r.choice(STEPS)}"' for _ in range(3)) + '\n.PE\n'
    half = r.randint(len(rows) // 3, 2 * len(rows) // 3)
    put(folder, 'd.tr', f'.nr PS 10\n.LP\n{PROSE[0]}\n.LP\n{code(rows[:half])}.LP\n{chart()}.ce 1\n{r.choice(CAPTIONS).format(2, 5)}\n.LP\n{code(rows[half:])}.LP\n{PROSE[1]}\n')
    import subprocess
    with open(os.path.join(folder, 'd.pdf'), 'wb') as out:
        subprocess.run(['groff', '-p', '-k', '-ms', '-Tpdf', 'd.tr'], cwd=folder, stdout=out, stderr=subprocess.DEVNULL, timeout=100, check=True)
    return os.path.join(folder, 'd.pdf')


def office_frames(lines, words, r, folder):
    """Text frames and a bordered table among the listing, by a word processor."""
    rows = hard(lines, 74)
    third = len(rows) // 3
    cells = ''.join(f'<tr><td>{a}</td><td>{b}</td></tr>' for a, b in r.sample(PINS, 4))
    pre = lambda part: f'<pre style="font-size:8pt">{html.escape(chr(10).join(part))}</pre>'
    put(folder, 'd.html', f'<html><meta charset=utf-8><body><h1>Boat lamp</h1><p>{PROSE[0]}</p>{pre(rows[:third])}<table border=1 cellspacing=0 style="font-size:9pt">{cells}</table><p><i>{r.choice(CAPTIONS).format(1, 2)}</i></p>{pre(rows[third:2 * third])}'
        f'<p style="border:1px solid black">{r.choice(STEPS)}</p>{pre(rows[2 * third:])}<p>{PROSE[1]}</p></body></html>')
    run(folder, 'soffice', '--headless', f'-env:UserInstallation=file://{folder}/profile', '--convert-to', 'pdf:writer_web_pdf_Export', 'd.html')
    return os.path.join(folder, 'd.pdf')


def wrapped_twice(lines, words, r, folder):
    """Broken by the author's editor at one width, and by the page at a narrower one."""
    sheet = Sheet(folder, r)
    wide = r.choice([72, 78, 84])
    for _ in sheet.listing(hard(hard(lines, wide), wide - r.randint(8, 24))): pass
    return sheet.path


ALL = {f.__name__: f for f in (flow_chart, captions, pin_table, margin_heads, changing_heads, one_head, framed, boxed_report, screenshot, pic_chart, office_frames, wrapped_twice)}
