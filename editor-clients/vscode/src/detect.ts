// Distinguishes a source for a mid-range chip from other assembly by what is in it, so that no other language's files are taken.
// The same look as in editor-clients/neovim/lua/relist/detect.lua.

const operations =
  /(?:^|[\s:])(?:mov[lwf]w|movwf|movf|bcf|bsf|btfs[cs]|decfsz|incfsz|retlw|retfie|clrwdt|(?:and|ior|xor|add|sub)lw|(?:add|sub|and|ior|xor)wf|clrf|swapf|comf|banksel)(?=\s|$)/i;
const typical = /^\s*(?:list\s.*\bp\s*=\s*"?(?:p|pic)?1[0246][a-z]|processor\s+"?(?:p|pic)?1[0246][a-z]|#?include\s*[<"]?p1[0246][a-z]|__config\s)/i;
const others = /^\s*(?:list\s.*\bp\s*=\s*"?(?:p|pic)?1[78][a-z]|processor\s+"?(?:p|pic)?1[78][a-z]|#?include\s*[<"]?p1[78][a-z])/i;

/** Whether these lines are such a source: one that names a chip, or three with operations of the family. */
export function isSource(lines: Iterable<string>): boolean {
  let hits = 0;
  for (const line of lines) {
    if (others.test(line)) return false;
    if (typical.test(line)) return true;
    if (operations.test(line.replace(/;.*/, '')) && ++hits >= 3) return true;
  }
  return false;
}
