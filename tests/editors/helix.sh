#!/usr/bin/env bash
# Helix (of the next Debian release) with editor-clients/helix does the job on the pasted demo document, in a terminal that is read back.
. "$(dirname "${BASH_SOURCE[0]}")/common/lib.sh"
. "$here/common/next-debian.sh"
need tmux tmux
next_debian hx
runtime=$(ls -d "$next"/root/usr/{lib,share}/{helix,hx}/runtime 2>/dev/null | head -n 1)
next_command hx "HELIX_RUNTIME=$runtime"
name="helix $("$work/bin/hx" --version | awk '{ print $2 }')"
mkdir -p "$work/ws/.helix" "$work/home/.config/helix"
sed 's/buildOnSave = true/output = "chip.hex"/' "$clients/helix/languages.toml" >"$work/ws/.helix/languages.toml"
printf '[editor.lsp]\ndisplay-messages = true\n' >"$work/home/.config/helix/config.toml"

terminal() { tmux -L "relist$$" -f /dev/null "$@"; }
clean_up() { terminal kill-server 2>/dev/null; }
screen() { terminal capture-pane -p; }
shows() { screen | grep -qE "$1"; }
lacks() { ! shows "$1"; }
keys() { terminal send-keys "$@"; }
in_file() { grep -qE "$1" "$work/ws/crossing.asm"; }
# Escape with the next key right behind it would be read as that key with Alt: wait until the editor has taken it.
escape() {
  keys Escape
  sleep 0.1
}
# Searches, and takes the selection down to the cursor on the match.
find_text() {
  keys g g
  keys /
  await 10 shows '^search:' || return
  keys -l "$1"
  keys Enter
  await 10 lacks '^search:'
}
command_line() {
  keys :
  await 10 shows '^:' || return
  keys -l "$1"
  keys Enter
}
step() {
  local what=$1
  shift
  if "$@"; then ok "$name: $what"; else
    not_ok "$name: $what"
    screen >"$work/screen.log"
    cp "$work/home/.cache/helix/helix.log" "$work/helix.log" 2>/dev/null
    exit
  fi
}

starts() {
  terminal new-session -d -x 150 -y 40 "cd '$work/ws' && HOME='$work/home' XDG_CONFIG_HOME='$work/home/.config' XDG_CACHE_HOME='$work/home/.cache' LANG=C.UTF-8 '$work/bin/hx' crossing.asm"
  await 20 shows 'Lane is (no|not an) instruction|● [0-9]+'
}
menu() {
  keys Space a
  await 10 shows 'every certain'
}
fixes_one() {
  find_text '^goto start' || return
  keys g h
  await 10 shows 'column 1' || return
  menu || return
  keys Enter Enter
  await 5 lacks 'every certain' || keys Enter
  await 10 shows '^[^a-z]* {6,}goto +start'
}
fixes_all() {
  find_text '^retfie' && keys g h && menu || return
  # Up from the first entry is the last one, which is the fix for everything.
  keys Up
  keys Enter
  await 5 lacks 'every certain' || keys Enter
  await 10 shows '^[^a-z]* {6,}retfie' && command_line 'w' && await 10 in_file '^ +retfie'
}
# A person puts a semicolon before the rests of broken comments: selects them all by a search in the whole text.
marks_rests() {
  local all
  all=$(sed -E 's/[.()]/\\&/g; s/ / +/g' "$rests" | paste -sd '|')
  keys % s
  await 10 shows '^select:' || return
  keys -l "^($all)\$"
  keys Enter
  keys i
  await 10 shows '^ INS' || return
  keys -l '; '
  await 10 shows '; The +program$' && escape && await 10 shows '^ NOR' || return
  keys ,
  command_line w && await 10 in_file '^; railway' && await 10 in_file '^; hexadecimal' || return
}
hovers() {
  find_text '_WDT_OFF' || return
  keys Space k
  await 10 shows 'Configuration word.*0x3FF1' && escape && await 10 lacks 'Configuration word'
}
formats() {
  command_line 'format' && find_text '^start' || return
  # Takes the line as it is, puts it out of its columns, and formats again.
  command_line w && await 10 in_file '^start {2,}clrf +PORTA' || return
  local right
  right=$(grep -E '^start +clrf +PORTA' "$work/ws/crossing.asm")
  keys x s
  await 10 shows '^select:' || return
  keys -l ' +'
  keys Enter
  keys c
  await 10 shows '^ INS' || return
  keys Space
  await 10 shows 'start clrf PORTA' && escape && await 10 shows '^ NOR' || return
  keys ,
  await 10 shows 'start clrf PORTA' || return
  command_line format && await 10 lacks 'start clrf PORTA' && command_line w && await 10 grep -qF "$right" "$work/ws/crossing.asm"
}
renames() {
  find_text '^idle1' || return
  keys Space r
  await 10 shows 'rename' || return
  keys C-u
  keys -l quietly
  keys Enter
  rm -f "$work/ws/chip.hex"
  await 10 shows '^[^a-z]*quietly +call' && command_line w && await 10 in_file 'goto +quietly$' && ! in_file idle1
}
saves() {
  await 10 test -s "$work/ws/chip.hex"
}

step 'the problems of the paste are shown' starts
step 'one fix from the menu moves an operation out of column 1' fixes_one
step 'the fix for everything is made' fixes_all
step 'the rests of comments get their semicolon' marks_rests
step 'the hover of the configuration line shows the word' hovers
step 'formatting puts a shifted line back into its columns' formats
step 'a rename changes the definition and every use' renames
step 'saving writes the HEX' saves
same_hex "$name"
