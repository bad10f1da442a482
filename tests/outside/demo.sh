#!/usr/bin/env bash
# The demo holds together: its HEX file follows from the fields of each word, and its PDF from its script.
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
status=0
try() { local name=$1; shift; if "$@"; then echo "ok $name"; else echo "not ok $name"; status=1; fi; }

try "the words of the demo agree with its HEX file" python3 docs/demo/check_words.py
exit $status
