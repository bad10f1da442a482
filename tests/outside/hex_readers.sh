#!/usr/bin/env bash
# Holds a HEX file written by relist against three readers that others wrote: objcopy (binutils), srec_cat (srecord) and
# python3-intelhex. Each turns the file into plain bytes; all must agree with what relist says is in it.
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
: "${RELIST:?the relist executable}"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
status=0
check() { if [ "$2" = "$3" ]; then echo "ok $1"; else echo "not ok $1"; status=1; fi; }

cat >"$work/all.asm" <<'ASM'
 list p=16f628a
 org 0
 goto start
 org 4
 retfie
start movlw 0x55
 fill 0x3FFF,37
 goto start
 org 0x7fe
 dw 0x1234,0x2aaa
 __idlocs 0x1A2B
 __config 0x3F10
 org 0x2100
 de "EEPROM",0,0xFF
 end
ASM
"$RELIST" build "$work/all.asm" -o "$work/all.hex" --words "$work/map" >/dev/null 2>&1 || { echo "not ok the program builds"; exit 1; }
echo "ok the program builds"

# The map is the tool's own account: address and word. Spread it over plain bytes, FF where nothing is.
python=$(command -v /usr/bin/python3 || command -v python3)
"$python" - "$work/map" "$work/expected.bin" <<'PY'
import sys
cells = {}
for line in open(sys.argv[1]):
    parts = line.split()
    if len(parts) > 2 and parts[0].startswith("0x") and len(parts[1]) == 4:
        cells[int(parts[0], 16)] = int(parts[1], 16)
    elif not parts:
        break
size = (max(cells) + 1) * 2
data = bytearray(b"\xff" * size)
for address, word in cells.items():
    data[2 * address:2 * address + 2] = word.to_bytes(2, "little")
open(sys.argv[2], "wb").write(data)
PY
expected=$(sha256sum <"$work/expected.bin")

objcopy -I ihex -O binary --gap-fill 0xFF "$work/all.hex" "$work/objcopy.bin"
check "objcopy reads the same bytes" "$(sha256sum <"$work/objcopy.bin")" "$expected"

srec_cat "$work/all.hex" -intel -fill 0xFF 0 "$(stat -c %s "$work/expected.bin")" -o "$work/srec.bin" -binary >/dev/null
check "srec_cat reads the same bytes" "$(sha256sum <"$work/srec.bin")" "$expected"

"$python" - "$work/all.hex" "$work/python.bin" <<'PY'
import sys
from intelhex import IntelHex
IntelHex(sys.argv[1]).tobinfile(sys.argv[2], start=0)
PY
check "python3-intelhex reads the same bytes" "$(sha256sum <"$work/python.bin")" "$expected"

# The other way round: files that srec_cat wrote, in other record lengths, give our reader the same words.
for length in 8 32; do
  srec_cat "$work/all.hex" -intel -o "$work/other.hex" -intel -output-block-size="$length" >/dev/null 2>&1
  if "$RELIST" compare "$work/all.hex" "$work/other.hex" | grep -q '^This is the build: all'; then echo "ok a file of srec_cat with records of $length bytes is read alike"; else echo "not ok a file of srec_cat with records of $length bytes is read alike"; status=1; fi
done
exit $status
