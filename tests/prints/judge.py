"""Judges a recovered source against the lines that were printed. Knows nothing of how it was recovered: it compares words that were
built, and where they differ, looks whether each differing line is marked."""
import difflib, re


def code(line):
    """The code of a line: its comment taken off, blanks made one, capitals made small."""
    quote, out = '', ''
    for c in line:
        if quote: quote = '' if c == quote else quote
        elif c in '"\'': quote = c
        elif c == ';': break
        out += c
    return re.sub(r'\s*([,&+*/|()=<>-])\s*', r'\1', re.sub(r'\s+', ' ', out.strip())).lower().replace(':', '')


def parts(lines):
    """The code of the lines, a label on a line of its own like one in front of an operation."""
    return [(n, c) for n, line in enumerate(lines) if (c := code(line))]


def differences(printed, recovered, entries):
    """(marked differences, unmarked ones, doubts on lines that are right)."""
    a, b = parts(printed), parts(recovered)
    marked = {n for n, line in enumerate(recovered) if ';?' in line}
    warned = {e['line'] - 1 for e in entries if e['severity'] not in ('information', 'note')}
    quoted = ' '.join(re.sub(r'\s+', ' ', e['message']).lower() for e in entries if e['severity'] not in ('information', 'note'))
    reported, silent, right = [], [], 0
    for tag, i1, i2, j1, j2 in difflib.SequenceMatcher(None, [c for _, c in a], [c for _, c in b], autojunk=False).get_opcodes():
        if tag == 'equal':
            right += sum(n in marked for n, _ in b[j1:j2])
            continue
        if ' '.join(c for _, c in a[i1:i2]) == ' '.join(c for _, c in b[j1:j2]): continue
        first = b[j1 - 1][0] if j1 > 0 else -1
        last = b[j2][0] if j2 < len(b) else len(recovered) - 1
        # A lost line is marked beside its place, or quoted by a warning; a changed or new one on itself.
        own = [n for n, _ in b[j1:j2]]
        near = set(range(first, last + 1)) if not own else set(range(min(own), max(own) + 1)) | ({first, last} if i2 - i1 > j2 - j1 else set())
        lost = [c for _, c in a[i1:i2]]
        if near & (marked | warned) or (not own and all(c in quoted for c in lost)): reported.append((lost, [c for _, c in b[j1:j2]]))
        else: silent.append((lost, [c for _, c in b[j1:j2]]))
    return reported, silent, right
