"""Layouts in which a listing is not left alone: explained between its lines, printed twice, in mixed columns, with its pages out of
order, numbered and broken at bad places, quoted in a letter. Each takes what the layouts of layouts.py take. Written from what authors
and typesetters do; knows nothing of how prints are recovered."""
import html, re
from layouts import PROSE, chromium, hard, page, put, run

# What authors say between the lines of a program; {op} and {name} are of the lines beside it.
TALK = ['The next lines wait until the key is released.', 'With {op} the value gets where it is needed; the rest is known from part one.',
        'Here the program looks whether {name} has changed.', 'If you use another crystal, only this number has to be changed.', 'Please note that {name} must not be zero here.',
        'Then the lamp goes on.', 'Now we return to the start:', 'So {op} is used a second time, and {name} keeps its value.', 'This part is called once a second.',
        'Wer einen anderen Quarz nimmt, ändert nur diese Zeile.', 'Nun wird {name} geladen und der Motor läuft an.', 'A beginner often forgets this step, and the relay clicks all night.',
        'Nothing more is needed: the end of the table is marked by a zero.', 'Let us look at {name} more closely.', 'The instruction {op} was explained in chapter 4.']


def talk(r, lines, most=3):
    """One paragraph about some lines."""
    ops = [w[0] for line in lines if line[:1] == ' ' and (w := line.split(';')[0].split())]
    names = [w[-1].rstrip(':') for line in lines if (w := re.split(r'[\s,]+', line.split(';')[0].strip())) and w[-1].replace('_', '').isalnum()]
    return ' '.join(r.choice(TALK).format(op=r.choice(ops or ['it']), name=r.choice(names or ['it'])) for _ in range(r.randint(1, most)))


def chunks(lines, r, most):
    """The lines in pieces, cut at empty lines where there are some."""
    out, piece, goal = [], [], r.randint(3, most)
    for line in lines:
        piece.append(line)
        if (len(piece) >= goal and not line.strip()) or len(piece) >= goal + 6:
            out.append(piece)
            piece, goal = [], r.randint(3, most)
    return out + [piece] if piece else out


def explained(lines, words, r, folder):
    """A lesson: some lines of the program, a paragraph about them, the next lines."""
    size, most = r.choice([7, 8]), r.choice([5, 10, 20])
    body = ''.join(f'<pre>{html.escape(chr(10).join(piece))}</pre><p>{html.escape(talk(r, piece))}</p>' for piece in chunks(lines, r, most))
    style = f'@page{{size:A4;margin:20mm;@bottom-center{{content:counter(page);font:8pt serif}}}}body{{font:10pt serif}}pre{{font:{size}pt monospace;margin-left:{r.choice([0, 0, 8])}mm}}'
    return chromium(folder, page(style, f'<h1>Boat lamp</h1><p>{PROSE[0]}</p>{body}<p>{PROSE[1]}</p>'))


def explained_lines(lines, words, r, folder):
    """Each line explained by itself, below it or in a column beside it."""
    beside = r.random() < .5
    rows = []
    for line in lines:
        said = html.escape(talk(r, [line], 1)) if line[:1] == ' ' and line.strip() and r.random() < .6 else ''
        code = html.escape(line) or '&nbsp;'
        rows.append(f'<tr><td class=c>{code}<td class=e>{said}' if beside else f'<div class=c>{code}</div>' + (f'<div class=e>{said}</div>' if said else ''))
    body = f'<table>{"".join(rows)}</table>' if beside else ''.join(rows)
    style = '@page{size:A4;margin:15mm}.c{font:' + ('6' if beside else '8') + 'pt monospace;white-space:pre;vertical-align:top}.e{font:8pt serif;padding-left:' + r.choice(['4mm', '8mm', '12mm']) + '}'
    return chromium(folder, page(style, f'<h1>Boat lamp</h1><p>{PROSE[0]}</p>{body}'))


def explained_text(lines, words, r, folder):
    """The same as plain text: the program indented, the paragraphs at the edge."""
    out, indent = [PROSE[0], ''], ' ' * r.choice([2, 4, 4])
    for piece in chunks(lines, r, r.choice([5, 10, 20])):
        out += [(indent + line).rstrip() for line in piece] + [''] + hard([talk(r, piece)], 70) + ['']
    return put(folder, 'd.txt', '\n'.join(out) + '\n')


def columns_change(lines, words, r, folder):
    """The beginning across the whole page, the rest in two columns; now and then the end across the page again."""
    empty = [i for i, line in enumerate(lines) if not line.strip()] or [len(lines) // 3]
    first = min(empty, key=lambda i: abs(i - len(lines) * r.choice([.2, .35, .5])))
    last = min((i for i in empty if i > first), key=lambda i: abs(i - len(lines) * .85), default=len(lines)) if r.random() < .4 else len(lines)
    pre = lambda some: f'<pre>{html.escape(chr(10).join(some))}</pre>'
    style = f'@page{{size:A4;margin:14mm;@bottom-right{{content:counter(page);font:8pt serif}}}}body{{font:9pt serif}}div{{columns:2;column-gap:{r.choice([6, 9])}mm}}pre{{font:{r.choice([7, 8])}pt monospace;white-space:pre-wrap;margin:0}}div pre{{font-size:{r.choice([6, 6.5])}pt}}'
    return chromium(folder, page(style, f'<h1>Boat lamp</h1><p>{PROSE[0]}</p>{pre(lines[:first])}<div>{pre(lines[first:last])}</div>{pre(lines[last:]) if last < len(lines) else ""}<p>{PROSE[3]}</p>'))


def misprinted(lines, r):
    """The lines with one digit of the code another one, as a tired typesetter leaves it."""
    found = [(i, m.start()) for i, line in enumerate(lines) if i > len(lines) // 3 and not line.startswith('#') for m in re.finditer(r'(?<=[\s,x])\d', line.split(';')[0])]
    if not found: return lines
    i, at = r.choice(found)
    return lines[:i] + [lines[i][:at] + r.choice([d for d in '0123456' if d != lines[i][at]]) + lines[i][at + 1:]] + lines[i + 1:]


def printed_twice(lines, words, r, folder):
    """The same listing in the article and in its appendix, once with a misprint."""
    both = [lines, misprinted(lines, r)]
    if r.random() < .5: both.reverse()
    style = f'@page{{size:A4;margin:18mm;@bottom-center{{content:counter(page);font:8pt serif}}}}pre{{font:{r.choice([7, 8])}pt monospace}}h2{{page-break-before:always}}'
    pre = [f'<pre>{html.escape(chr(10).join(some))}</pre>' for some in both]
    return chromium(folder, page(style, f'<h1>Boat lamp</h1><p>{PROSE[0]}</p>{pre[0]}<p>{PROSE[1]}</p><h2>Appendix: the whole program</h2><p>{PROSE[2]}</p>{pre[1]}'))


def drawn(folder, pages, size, r):
    """A PDF of pages that were made line by line: (head, rows, foot) each."""
    import os
    from reportlab.lib.pagesizes import A4
    from reportlab.pdfgen.canvas import Canvas
    canvas = Canvas(os.path.join(folder, 'd.pdf'), pagesize=A4)
    for head, rows, foot in pages:
        canvas.setFont('Helvetica', 9)
        canvas.drawString(60, A4[1] - 40, head)
        canvas.setFont('Courier', size)
        for i, row in enumerate(rows): canvas.drawString(60, A4[1] - 70 - i * size * 1.25, row.encode('latin1', 'replace').decode('latin1'))
        canvas.setFont('Helvetica', 8)
        canvas.drawCentredString(A4[0] / 2, 30, foot)
        canvas.showPage()
    canvas.save()
    return os.path.join(folder, 'd.pdf')


def shuffled_pages(lines, words, r, folder):
    """Copied sheets that were put together in another order; each has its page number."""
    rows, per = hard(lines, r.choice([80, 90])), r.choice([30, 45])
    first, form = r.choice([1, 1, 17]), r.choice(['page {0}', '- {0} -', '{0}', '{0}/{1}'])
    cut = [rows[i:i + per] for i in range(0, len(rows), per)]
    pages = [('Boat lamp', piece, form.format(first + i, first + len(cut) - 1)) for i, piece in enumerate(cut)]
    r.shuffle(pages)
    return drawn(folder, pages, 8, r)


def numbered(lines, r, width):
    """Rows with line numbers in some manner; what does not fit goes on in a row without a number."""
    wide = len(str(len(lines)))
    form = r.choice(['{0:>4}| ', '{0:>4}: ', '({0:>3}) ', '{0:<4}  ', '{0:04d} ', '[{0}] ', '{0:>4}. ', 'five'])
    out = []
    for i, line in enumerate(lines):
        front = form.format(i + 1) if form != 'five' else f'{i + 1 if (i + 1) % 5 == 0 else "":>{wide}}  '
        rows = hard([line], width, r.choice([0, 2]) if form == 'five' else 0)
        out += [(front + rows[0]).rstrip()] + [' ' * len(front) + row for row in rows[1:]]
    return out


def numbered_pages(lines, words, r, folder):
    """Numbered rows on pages with heads and feet, broken anywhere, inside of a wrapped line too."""
    rows, per = numbered(lines, r, r.choice([66, 74])), r.choice([23, 38, 55])
    head = r.choice(['Boat lamp   {0}', 'Listing 1 (continued)', 'Club paper {0}', ''])
    pages = [(head.format(n + 1), rows[i:i + per], r.choice(['{0}', 'page {0}', '-{0}-']).format(n + 1)) for n, i in enumerate(range(0, len(rows), per))]
    return drawn(folder, pages, r.choice([7, 8]), r)


def wrapped_twice(lines, words, r, folder):
    """Wrapped by the author's editor, and once more by the narrower columns of the paper."""
    rows = hard(lines, r.choice([60, 66, 72]), r.choice([0, 0, 2]))
    style = f'@page{{size:A4;margin:14mm;@bottom-center{{content:"Club paper  " counter(page);font:8pt serif}}}}div{{columns:2;column-gap:{r.choice([6, 9])}mm;font:9pt serif}}pre{{font:{r.choice([6.5, 7, 7.5])}pt monospace;white-space:pre-wrap;margin:0}}'
    return chromium(folder, page(style, f'<h1>Boat lamp</h1><div><p>{PROSE[0]}</p><pre>{html.escape(chr(10).join(rows))}</pre><p>{PROSE[3]}</p></div>'))


def quoted_letter(lines, words, r, folder):
    """A program in the answer to a letter: the sign of a quotation in front of each line."""
    sign, width = r.choice(['> ', '>', '| ', '>> ']), r.choice([70, 76, 120])
    rows = [(sign + row).rstrip() for line in lines for row in hard([line], width)]
    return put(folder, 'd.txt', '\n'.join(['On Sunday Anna wrote:', sign.strip(), *rows, '', 'Thank you, it runs! The lamp is on.', '', 'Bert']) + '\n')


def paged_printout(lines, words, r, folder):
    """What a line printer is sent: a head with date, file and page, 66 lines on a page, a form feed or empty lines between pages."""
    out, per, feed, numbers = [], 56, r.random() < .5, r.random() < .4
    rows = [f'{i + 1:>5} {line}'.rstrip() for i, line in enumerate(lines)] if numbers else lines
    for n, start in enumerate(range(0, len(rows), per)):
        piece = rows[start:start + per]
        out += ['', '', f'2004-03-12 10:21                    lamp.asm                    Page {n + 1}', '', '', *piece] + ([] if feed else [''] * (per - len(piece) + 5))
        if feed: out[-len(piece) - 5] = '\f'
    return put(folder, 'd.txt', '\n'.join(out) + '\n')


def text_columns(lines, words, r, folder):
    """Two columns side by side in a text, page by page."""
    width, per = r.choice([48, 60, 72]), r.choice([40, 60])
    rows, out = hard(lines, width, r.choice([0, 2])), []
    for start in range(0, len(rows), 2 * per):
        left, right = rows[start:start + per], rows[start + per:start + 2 * per]
        out += [(a.ljust(width + 4) + b).rstrip() for a, b in zip(left, right + [''] * (len(left) - len(right)))] + ['', f'{"":>{width}}{start // (2 * per) + 1}', '']
    return put(folder, 'd.txt', '\n'.join(out) + '\n')


def continued(lines, words, r, folder):
    """Boxes of listings with a caption each, between the paragraphs of an article: 'Listing 1', 'Listing 1 (continued)'."""
    pieces, at = [], 0
    while at < len(lines):
        n = r.randint(25, 50)
        pieces.append(lines[at:at + n])
        at += n
    box = ''.join(f'<p>{html.escape(talk(r, piece, 5))}</p><div><h4>Listing 1{"" if i == 0 else " (continued)"}{r.choice(["", ": lamp.asm"])}</h4><pre>{html.escape(chr(10).join(piece))}</pre></div>' for i, piece in enumerate(pieces))
    style = f'@page{{size:A4;margin:18mm;@top-left{{content:"Club paper " counter(page);font:8pt serif}}}}body{{font:10pt serif}}pre{{font:{r.choice([7, 8])}pt monospace;margin:1mm}}div{{border:{r.choice(["1px solid", "none"])};{r.choice(["break-inside:avoid", ""])}}}h4{{margin:0;font:{r.choice(["bold 8pt sans-serif", "italic 9pt serif"])}}}'
    put(folder, 'd.html', page(style, f'<h1>Boat lamp</h1><p>{PROSE[0]}</p>{box}<p>{PROSE[1]}</p>'))
    run(folder, 'weasyprint', 'd.html', 'd.pdf')
    return f'{folder}/d.pdf'


ALL = {f.__name__: f for f in (explained, explained_lines, explained_text, columns_change, printed_twice, shuffled_pages, numbered_pages, wrapped_twice, quoted_letter, paged_printout, text_columns, continued)}
