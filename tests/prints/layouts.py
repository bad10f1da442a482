"""Prints a text in the ways that magazines, word processors, browsers and assemblers do. Each layout takes the lines, the words that
each line makes (address, [words]), a random generator and a folder, and leaves a PDF or a text there. Knows nothing of how prints are recovered."""
import html, os, subprocess, textwrap

PROSE = ['The circuit is built in one evening and needs no tuning. Solder the sockets first and the tall parts last.',
         'Before the chip goes into its socket, the supply is measured: 5 V between pins 5 and 14, and nothing gets warm.',
         'The program is printed below. Whoever has no programmer will find somebody at the club who has one.',
         'If the lamp stays dark, look at the polarity of the diode. In nine of ten boats it was the fuse.']


def run(folder, *command, **more):
    subprocess.run(command, cwd=folder, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, timeout=240, **more)


def put(folder, name, text):
    with open(os.path.join(folder, name), 'w', encoding='utf8') as f: f.write(text)
    return os.path.join(folder, name)


def hard(lines, width, hang=0):
    """Rows of at most so many characters: what is longer goes on in the next row, at the left edge or hanging."""
    out = []
    for line in lines:
        first = True
        while len(line) > width:
            at = line.rfind(' ', 1, width + 1)
            if at < len(line) - len(line.lstrip()) + 1: at = width
            out.append(line[:at].rstrip())
            line = ' ' * hang + line[at:].lstrip()
        out.append(line)
    return out


def chromium(folder, page):
    put(folder, 'd.html', page)
    run(folder, 'chromium', '--headless', '--no-sandbox', '--disable-gpu', '--no-pdf-header-footer', '--disable-background-networking', '--disable-component-update',
        f'--user-data-dir={folder}/browser', '--print-to-pdf=d.pdf', 'd.html')
    return os.path.join(folder, 'd.pdf')


def page(style, body): return f'<!doctype html><meta charset=utf-8><title>Boat lamp</title><style>{style}</style>{body}'


def web_heads(lines, words, r, folder):
    size, foot = r.choice([7.5, 8, 9]), r.choice(['"Boat lamp, page " counter(page) "/" counter(pages)', 'counter(page)', '"- " counter(page) " -"'])
    style = f'@page{{size:A4;margin:20mm;@top-right{{content:"Club paper {r.randint(1, 40)}";font:8pt serif}}@bottom-center{{content:{foot};font:8pt serif}}}}pre{{font:{size}pt monospace}}'
    return chromium(folder, page(style, f'<h1>Boat lamp</h1><p>{PROSE[0]}</p><pre>{html.escape(chr(10).join(lines))}</pre><p>{PROSE[1]}</p>'))


def web_wrapped(lines, words, r, folder):
    width = r.choice([64, 72, 80])
    style = f'@page{{size:A4;margin:15mm}}pre{{font:8pt monospace;white-space:pre-wrap;width:{width}ch}}'
    return chromium(folder, page(style, f'<p>{PROSE[2]}</p><pre>{html.escape(chr(10).join(lines))}</pre>'))


def web_magazine(lines, words, r, folder):
    size = r.choice([6, 6.5, 7])
    style = f'@page{{size:A4;margin:14mm}}body{{font:9pt serif}}h1{{column-span:all}}div{{columns:2;column-gap:{r.choice([6, 8, 10])}mm}}pre{{font:{size}pt monospace;white-space:pre-wrap;margin:0}}'
    return chromium(folder, page(style, f'<div><h1>Boat lamp</h1><p>{" ".join(PROSE)}</p><pre>{html.escape(chr(10).join(lines))}</pre><p>{PROSE[3]}</p></div>'))


def weasy_numbers(lines, words, r, folder):
    sign = r.choice(['', ':', ' |', '.', ')'])
    wide = len(str(len(lines)))
    numbered = [f'{i + 1:>{wide}}{sign}  {l}'.rstrip() for i, l in enumerate(lines)]
    style = f'@page{{size:A4;margin:18mm;@bottom-right{{content:counter(page);font:8pt serif}}}}pre{{font:{r.choice([7, 8])}pt "Liberation Mono";}}'
    put(folder, 'd.html', page(style, f'<h2>Listing</h2><pre>{html.escape(chr(10).join(numbered))}</pre>'))
    run(folder, 'weasyprint', 'd.html', 'd.pdf')
    return os.path.join(folder, 'd.pdf')


def troff(lines, words, r, folder):
    body = '\n'.join('\\&' + l.replace('\\', '\\e').replace('-', '\\-').replace("'", '\\[aq]') for l in hard(lines, r.choice([70, 76])))
    put(folder, 'd.tr', f'.nr PS 10\n.LP\n{PROSE[0]}\n.LP\n.nf\n.ft CR\n.ps 8\n.vs 10\n{body}\n.ft R\n.fi\n.LP\n{PROSE[1]}\n')
    with open(os.path.join(folder, 'd.pdf'), 'wb') as out:
        subprocess.run(['groff', '-k', '-ms', '-Tpdf', 'd.tr'], cwd=folder, stdout=out, stderr=subprocess.DEVNULL, timeout=100, check=True)
    return os.path.join(folder, 'd.pdf')


def enscript(lines, words, r, folder):
    put(folder, 'd.txt', '\n'.join(lines) + '\n')
    latin = open(os.path.join(folder, 'd.txt'), encoding='utf8').read().encode('latin1', 'replace')
    open(os.path.join(folder, 'd.txt'), 'wb').write(latin)
    ways = r.choice([['-B'], ['-C', '-B'], ['-2', '-r', '-B'], ['--header=lamp.asm|$D|$%'], ['-C1', '-2', '-r', '-B']])
    run(folder, 'enscript', '-q', '-X', '88591', '-M', 'A4', '-p', 'd.ps', *ways, 'd.txt')
    run(folder, 'ps2pdf', 'd.ps', 'd.pdf')
    return os.path.join(folder, 'd.pdf')


def office(lines, words, r, folder):
    width = r.choice([66, 74, 120])
    put(folder, 'd.html', f'<html><meta charset=utf-8><body><h1>Boat lamp</h1><p>{PROSE[0]}</p><pre>{html.escape(chr(10).join(hard(lines, width)))}</pre><p>{PROSE[1]}</p></body></html>')
    run(folder, 'soffice', '--headless', f'-env:UserInstallation=file://{folder}/profile', '--convert-to', 'pdf:writer_web_pdf_Export', 'd.html')
    return os.path.join(folder, 'd.pdf')


def report(lines, words, r, folder):
    """Drawn line by line, with heads and feet and pages broken anywhere."""
    from reportlab.lib.pagesizes import A4
    from reportlab.pdfgen.canvas import Canvas
    canvas = Canvas(os.path.join(folder, 'd.pdf'), pagesize=A4)
    rows, per, size = hard(lines, r.choice([72, 80, 90])), r.choice([40, 55, 62]), r.choice([7, 8, 9])
    top, number = A4[1] - 70, 0
    for start in range(0, len(rows), per):
        number += 1
        canvas.setFont('Helvetica', 9)
        canvas.drawString(60, A4[1] - 40, f'Boat lamp   {number}')
        canvas.setFont('Courier', size)
        for i, row in enumerate(rows[start:start + per]): canvas.drawString(60, top - i * size * 1.25, row.encode('latin1', 'replace').decode('latin1'))
        canvas.setFont('Helvetica', 8)
        canvas.drawCentredString(A4[0] / 2, 30, f'page {number}')
        canvas.showPage()
    canvas.save()
    return os.path.join(folder, 'd.pdf')


def gutter(lines, words, r):
    """Addresses and words in front of the lines, in some assembler's manner."""
    upper, form = r.random() < .7, r.randrange(5)
    h = (lambda n: f'{n:04X}') if upper else (lambda n: f'{n:04x}')
    out = []
    for i, line in enumerate(lines):
        address, made = words.get(i + 1, (None, []))
        first, rest = (h(made[0]), made[1:]) if made else ('', [])
        a = h(address) if address is not None else ''
        front = [f'{i + 1:>5} {a:4} {first:4}  ', f'{a:4} {first:4} {i + 1:>5}  ', f'{a:4}{":" if a else " "}{first:4} {i + 1:>5}   ', f'{a:4}  {first:4}  ', f'{i + 1:04d}  {a:4}  {first:4} | '][form]
        out.append((front + line).rstrip())
        for k, word in enumerate(rest): out.append([f'{"":5} {h(address + k + 1)} {h(word)}', f'{h(address + k + 1)} {h(word)}', f'{h(address + k + 1)}:{h(word)}', f'{h(address + k + 1)}  {h(word)}', f'{"":4}  {h(address + k + 1)}  {h(word)} |'][form])
    return out


def listing_pdf(lines, words, r, folder): return report(gutter(lines, words, r), words, r, folder)


def listing_text(lines, words, r, folder): return put(folder, 'd.txt', '\n'.join(gutter(lines, words, r)) + '\n')


def signed_numbers(lines, words, r, folder):
    """Line numbers with a sign that parts them from the text."""
    sign, wide, zero = r.choice(['|', ' |', ':', '.', ')', ' -', '>', ']']), len(str(len(lines))) + r.randint(0, 2), r.random() < .3
    return put(folder, 'd.txt', '\n'.join(f'{str(i + 1).rjust(wide, "0" if zero else " ")}{sign}  {l}'.rstrip() for i, l in enumerate(lines)) + '\n')


def joined_words(lines, words, r, folder):
    """Addresses and words joined by a sign, in capitals or not, with or without line numbers, on either side of each other."""
    sign, small, numbers, wide = r.choice(':-/='), r.random() < .4, r.random() < .5, len(str(len(lines)))
    h = (lambda n: f'{n:04x}') if small else (lambda n: f'{n:04X}')
    out = []
    for i, line in enumerate(lines):
        address, made = words.get(i + 1, (None, []))
        front = f'{h(address)}{sign}{h(made[0])}' if made else ' ' * 9
        out.append((front + (f'  {i + 1:>{wide}}' if numbers else '') + '   ' + line).rstrip())
        out += [f'{h(address + k)}{sign}{h(made[k])}' for k in range(1, len(made))]
    return put(folder, 'd.txt', '\n'.join(out) + '\n')


def weasy_magazine(lines, words, r, folder):
    style = f'@page{{size:A4;margin:14mm;@bottom-center{{content:"Club paper  " counter(page);font:8pt serif}}}}div{{columns:2;column-gap:{r.choice([6, 9])}mm;font:9pt serif}}pre{{font:{r.choice([6, 6.5])}pt "Liberation Mono";white-space:pre-wrap;margin:0}}'
    put(folder, 'd.html', page(style, f'<h1>Boat lamp</h1><div><p>{" ".join(PROSE[:3])}</p><pre>{html.escape(chr(10).join(lines))}</pre><p>{PROSE[3]}</p></div>'))
    run(folder, 'weasyprint', 'd.html', 'd.pdf')
    return os.path.join(folder, 'd.pdf')


def web_table(lines, words, r, folder):
    """A table with the numbers in one cell and the line in the next, as code is shown on the web; or one cell of each for all lines."""
    style = f'@page{{size:A4;margin:15mm}}td{{font:{r.choice([7, 8])}pt monospace;white-space:pre;padding:0 1ex;vertical-align:top}}'
    if r.random() < .5: body = ''.join(f'<tr><td align=right>{i + 1}</td><td>{html.escape(l)}</td></tr>' for i, l in enumerate(lines))
    else: body = f'<tr><td align=right>{"<br>".join(str(i + 1) for i in range(len(lines)))}</td><td>{"<br>".join(html.escape(l) or "&nbsp;" for l in lines)}</td></tr>'
    return chromium(folder, page(style, f'<p>{PROSE[2]}</p><table cellspacing=0>{body}</table>'))


def troff_columns(lines, words, r, folder):
    body = '\n'.join('\\&' + l.replace('\\', '\\e').replace('-', '\\-').replace("'", '\\[aq]') for l in hard(lines, r.choice([48, 52]), r.choice([0, 0, 2])))
    put(folder, 'd.tr', f'.nr PS 10\n.nr LL 7.2i\n.nr PO 0.5i\n.2C\n.LP\n{PROSE[0]}\n.LP\n.nf\n.ft CR\n.ps 7\n.vs 9\n{body}\n.ft R\n.fi\n.LP\n{PROSE[1]}\n')
    with open(os.path.join(folder, 'd.pdf'), 'wb') as out:
        subprocess.run(['groff', '-k', '-ms', '-Tpdf', 'd.tr'], cwd=folder, stdout=out, stderr=subprocess.DEVNULL, timeout=100, check=True)
    return os.path.join(folder, 'd.pdf')


def every_fifth(lines, words, r, folder):
    step = r.choice([5, 10])
    return put(folder, 'd.txt', '\n'.join(f'{i + 1 if (i + 1) % step == 0 else "":>4}  {l}'.rstrip() for i, l in enumerate(lines)) + '\n')


def paste_flat(lines, words, r, folder): return put(folder, 'd.txt', '\n'.join(l.lstrip() for l in lines) + '\n')


def paste_indented(lines, words, r, folder): return put(folder, 'd.txt', '\n'.join((' ' * r.choice([4]) + l).rstrip() for l in lines) + '\n')


def paste_wrapped(lines, words, r, folder): return put(folder, 'd.txt', '\n'.join(hard(lines, r.choice([60, 65, 72]), r.choice([0, 0, 4]))) + '\n')


def paste_paged(lines, words, r, folder):
    out, per = [], r.choice([35, 50])
    for start in range(0, len(lines), per): out += lines[start:start + per] + ['', f'Boat lamp, page {start // per + 1}' if r.random() < .5 else f'{start // per + 1}', '']
    return put(folder, 'd.txt', '\n'.join(out) + '\n')


def latex(lines, words, r, folder):
    put(folder, 'p.asm', '\n'.join(lines) + '\n')
    put(folder, 'd.tex', r'\documentclass[a4paper' + r.choice(['', ',twocolumn']) + r']{article}\usepackage[T1]{fontenc}\usepackage[utf8]{inputenc}\usepackage[margin=18mm]{geometry}\usepackage{listingsutf8}'
        r'\lstset{inputencoding=utf8/latin1,basicstyle=\tiny\ttfamily,breaklines=true,keepspaces=true,columns=fullflexible' + r.choice(['', ',numbers=left,numberstyle=\tiny', ',numbers=left,stepnumber=5']) + r'}\begin{document}\section{Boat lamp}' + PROSE[0] + r'\lstinputlisting{p.asm}' + PROSE[1] + r'\end{document}')
    run(folder, 'pdflatex', '-interaction=nonstopmode', 'd.tex')
    return os.path.join(folder, 'd.pdf')


ALL = {f.__name__: f for f in (web_heads, web_wrapped, web_magazine, weasy_numbers, troff, enscript, office, report, latex, listing_pdf, weasy_magazine, web_table, troff_columns, listing_text, signed_numbers, joined_words, every_fifth, paste_flat, paste_indented, paste_wrapped, paste_paged)}
TYPESET = {'web_heads', 'web_wrapped', 'web_magazine', 'weasy_numbers', 'troff', 'enscript', 'office', 'report', 'latex', 'listing_pdf', 'weasy_magazine', 'web_table', 'troff_columns'}
