#!/usr/bin/python3
"""Prints programs of many authors in many layouts, recovers them, and says how each came back.

    run.py RELIST [--seed N] [--programs N] [--layout NAME ...] [--own] [-v] [--keep FOLDER [--all]]

RELIST is the executable. --own takes the programs of tests/fixtures/programs too. Another seed draws other programs and layouts.
Needs: chromium, weasyprint, groff, enscript, ghostscript, libreoffice-writer, python3-reportlab, texlive-latex-recommended (Debian 12);
a layout whose tool is missing is named and left out. Verdicts: EXACT, the built words are the printed program's; FLAGGED, each differing
line carries a mark or a warning; SILENT, one does not; REFUSED. --keep keeps what is not EXACT, with --all everything. Written for docs/recovery.md; no test runs it."""
import argparse, glob, json, os, random, re, subprocess, sys, tempfile
from collections import Counter, defaultdict

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, HERE)
sys.dont_write_bytecode = True
import documents, figures, judge, layouts, programs

LAYOUTS = layouts.ALL | documents.ALL | figures.ALL


def tool(relist, *arguments): return subprocess.run([relist, *arguments], capture_output=True, text=True, errors='replace', timeout=300)


def built(relist, source):
    """The words by address and, of each line, its address and words; None where it is not built."""
    hexes, table = source + '.hex', source + '.words'
    for old in (hexes, table):
        if os.path.exists(old): os.remove(old)
    option = '--words'
    if tool(relist, 'build', source, '-o', hexes, option, table).returncode: return None, {}
    words, lines = {}, {}
    for row in open(table, encoding='utf8'):
        m = re.match(r'0x([0-9A-F]{4,})\s+([0-9A-F]{2,4})\s+(.*?):(\d+)\b', row)
        if not m: continue
        address, word = int(m[1], 16), int(m[2], 16)
        words[address] = word
        if m[3].endswith(os.path.basename(source)):
            entry = lines.setdefault(int(m[4]), (address, []))
            if address == entry[0] + len(entry[1]): entry[1].append(word)
    return words, lines


def main():
    asked = argparse.ArgumentParser()
    asked.add_argument('relist')
    asked.add_argument('--seed', type=int, default=1)
    asked.add_argument('--programs', type=int, default=60)
    asked.add_argument('--layout', nargs='*')
    asked.add_argument('--own', action='store_true')
    asked.add_argument('-v', action='store_true')
    asked.add_argument('--keep')
    asked.add_argument('--all', action='store_true')
    a = asked.parse_args()
    relist = os.path.abspath(a.relist)
    sources = [(f'{a.seed}-{i}', *programs.write(a.seed * 1000 + i)) for i in range(a.programs)]
    if a.own:
        for path in sorted(glob.glob(os.path.join(HERE, '..', 'fixtures', 'programs', '*.asm'))):
            raw = open(path, 'rb').read()
            try: text = raw.decode('utf8')
            except UnicodeDecodeError: text = raw.decode('cp1252')
            if 'warten.inc' not in text: sources.append((os.path.basename(path), text.replace('\r', '').expandtabs().split('\n'), {}))
    table, missing, doubts = defaultdict(Counter), {}, defaultdict(lambda: [0, 0])
    for name, lines, files in sources:
        with tempfile.TemporaryDirectory() as home:
            source = os.path.join(home, 'p.asm')
            open(source, 'w', encoding='utf8').write('\n'.join(lines) + '\n')
            beside(home, files)
            truth, words = built(relist, source)
            if truth is None:
                print(f'{name}: the program itself is not built', flush=True)
                continue
            for layout in a.layout or LAYOUTS:
                folder = os.path.join(home, layout)
                os.mkdir(folder)
                beside(folder, files)
                try: document = LAYOUTS[layout](list(lines), words, random.Random(f'{a.seed} {name} {layout}'), folder)
                except (OSError, ImportError, subprocess.SubprocessError) as e:
                    missing.setdefault(layout, str(e)[:80])
                    continue
                verdict, silent = judged(relist, document, folder, lines, truth, doubts[layout])
                table[layout][verdict] += 1
                if a.v or verdict in ('SILENT', 'REFUSED'):
                    print(f'{name} {layout}: {verdict}', flush=True)
                    for lost, got in silent[:4]: print('     printed', lost, 'came back', got, flush=True)
                if a.keep and (a.all or verdict != 'EXACT'):
                    to = os.path.join(a.keep, f'{name}-{layout}-{verdict}')
                    os.makedirs(to, exist_ok=True)
                    beside(to, files)
                    for f in (document, source, os.path.join(folder, 'out.asm'), os.path.join(folder, 'out.json')):
                        if os.path.exists(f): open(os.path.join(to, os.path.basename(f)), 'wb').write(open(f, 'rb').read())
    print('| layout | EXACT | FLAGGED | SILENT | REFUSED | doubts on 100 right lines |\n| --- | ---: | ---: | ---: | ---: | ---: |')
    whole = Counter()
    for layout, counts in table.items():
        whole += counts
        right, of = doubts[layout]
        print(f"| {layout.replace('_', ' ')} | {counts['EXACT']} | {counts['FLAGGED']} | {counts['SILENT']} | {counts['REFUSED']} | {100 * right / max(1, of):.2f} |")
    print(f"| all | {whole['EXACT']} | {whole['FLAGGED']} | {whole['SILENT']} | {whole['REFUSED']} | |")
    for layout, why in missing.items(): print(f'left out: {layout} ({why})')


def beside(folder, files):
    for name, lines in files.items():
        with open(os.path.join(folder, name), 'w', encoding='utf8') as f: f.write('\n'.join(lines) + '\n')


def judged(relist, document, folder, lines, truth, doubts):
    out, report = os.path.join(folder, 'out.asm'), os.path.join(folder, 'out.json')
    p = tool(relist, 'recover', document, '-o', out, '--report', report)
    if p.returncode not in (0, 1) or not os.path.exists(out): return 'REFUSED', []
    recovered = open(out, encoding='utf8').read().split('\n')
    entries = json.load(open(report)) if os.path.exists(report) else []
    entries = entries if isinstance(entries, list) else entries.get('entries', [])
    words, _ = built(relist, out)
    reported, silent, right = judge.differences(lines, recovered, entries)
    doubts[0] += right
    doubts[1] += sum(1 for line in lines if judge.code(line))
    if words == truth: return 'EXACT', []
    return ('SILENT', silent) if silent else ('FLAGGED', [])


main()
