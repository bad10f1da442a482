#!/usr/bin/env bash
# The demo holds together: its HEX file follows from the fields of each word, and its PDF and the pasted text from their script.
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
status=0
try() { local name=$1; shift; if "$@"; then echo "ok $name"; else echo "not ok $name"; status=1; fi; }

try "the words of the demo agree with its HEX file" python3 docs/demo/check_words.py
cp docs/demo/make_pdf.py docs/demo/crossing.asm "$work"
python3 "$work/make_pdf.py"
try "the leaflet is what its script makes" cmp "$work/crossing-kit.pdf" docs/demo/crossing-kit.pdf
try "the pasted text is what the script makes" cmp "$work/pasted.txt" docs/demo/pasted.txt
exit $status
