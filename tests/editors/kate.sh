#!/usr/bin/env bash
# Kate with the settings of editor-clients/kate does the job, on a screen of its own (Xvfb): keys and the
# pointer in, the file and the messages to and from the server out.
# SCREENSHOTS=FOLDER also keeps pictures.
. "$(dirname "${BASH_SOURCE[0]}")/common/lib.sh"
need kate kate
need Xvfb xvfb
need openbox openbox
need xdotool xdotool
need import imagemagick
need dbus-daemon dbus
name="kate $(QT_QPA_PLATFORM=offscreen HOME=$work/home kate --version 2>/dev/null | awk '/^kate/ { print $2 }')"

export HOME=$work/home XDG_RUNTIME_DIR=$work/home/run LANG=C.UTF-8 QT_QPA_PLATFORM=xcb
unset XDG_CONFIG_HOME XDG_DATA_HOME XDG_CACHE_HOME WAYLAND_DISPLAY
mkdir -p "$HOME/.config/kate/lspclient" "$XDG_RUNTIME_DIR"
chmod 700 "$XDG_RUNTIME_DIR"
sed 's/"buildOnSave": true/"output": "chip.hex"/' "$clients/kate/settings.json" >"$HOME/.config/kate/lspclient/settings.json"
# The server is asked about once by Kate, in a window; here it is known beforehand.
cat >"$HOME/.config/katerc" <<END
[General]
Show welcome view for new window=false
Last Session=
[Kate Plugins]
lspclientplugin=true
[lspclient]
AllowedServerCommandLines=$work/bin/relist serve --stdio
AutoHover=true
Messages=true
SemanticHighlighting=true
InlayHints=true
[KDE]
widgetStyle=Fusion
END
file=$work/ws/crossing.asm

clean_up() {
  local child
  for child in ${kate-} ${bus-} ${manager-} ${screen-}; do kill "$child" 2>/dev/null && wait "$child" 2>/dev/null; done
}
to_server() { grep -qaE "$1" "$work/messages/to-server" 2>/dev/null; }
from_server() { grep -qaE "$1" "$work/messages/from-server" 2>/dev/null; }
# How often the server was sent or has sent a message that fits.
count() { grep -aoE "$2" "$work/messages/$1" 2>/dev/null | wc -l; }
more_than() { [ "$(count "$1" "$2")" -gt "$3" ]; }
in_file() { grep -qE "$1" "$file"; }
picture() { [ -n "${SCREENSHOTS-}" ] && import -window root "$SCREENSHOTS/$1.png"; return 0; }
keys() { xdotool key --clearmodifiers "$@"; }
wait_a_moment() { read -rt "$1" <> <(:) || true; }
# To the beginning of the first line that fits, by its number.
go_to() {
  local line
  line=$(grep -nE "$1" "$file" | head -n 1 | cut -d : -f 1)
  [ -n "$line" ] || return 1
  keys ctrl+g
  wait_a_moment 0.3
  xdotool type "$line"
  keys Return
  wait_a_moment 0.3
  keys Home
}
step() {
  local what=$1
  shift
  if "$@"; then ok "$name: $what"; else
    not_ok "$name: $what"
    import -window root "${SCREENSHOTS:-/tmp}/kate-failed.png" 2>/dev/null
    exit
  fi
}

starts() {
  local display
  # A free number is taken by the screen itself, and reported.
  Xvfb -displayfd 3 -screen 0 1100x700x24 3>"$work/display" >"$work/screen.log" 2>&1 &
  screen=$!
  await 20 test -s "$work/display" || return
  read -r display <"$work/display"
  export DISPLAY=:$display
  openbox >"$work/manager.log" 2>&1 &
  manager=$!
  # A bus of its own, ended with it.
  dbus-daemon --session --nofork --print-address >"$work/address" 2>"$work/bus.log" &
  bus=$!
  await 10 test -s "$work/address" || return
  export DBUS_SESSION_BUS_ADDRESS
  DBUS_SESSION_BUS_ADDRESS=$(cat "$work/address")
  begin_kate '"method":"textDocument/publishDiagnostics".*"operation-not-indented"' && picture kate-problems
}
# Starts Kate on the file and waits for its window and a message of the server.
begin_kate() {
  kate -n -b --startanon "$file" >>"$work/kate.log" 2>&1 &
  kate=$!
  await 60 from_server "$1" || return
  window=$(xdotool search --sync --onlyvisible --name crossing.asm | tail -n 1)
  [ -n "$window" ] && xdotool windowactivate --sync "$window" || return
  xdotool windowsize "$window" 1100 690
  xdotool mousemove 700 300 click 1
  wait_a_moment 1
}
end_kate() {
  kill "$kate" 2>/dev/null
  wait "$kate" 2>/dev/null
}
# Saved by its key; the server is notified when it is on the disk.
save_until() {
  local end=$((SECONDS + 80))
  until in_file "$1"; do
    [ "$SECONDS" -lt "$end" ] || return 1
    keys ctrl+s
    await 2 in_file "$1"
  done
}
fixes_one() {
  go_to '^goto start' || return
  keys ctrl+period
  save_until '^ {6,}goto +start'
}

opens_the_whole_program() {
  end_kate
  cp "$repository/docs/demo/crossing.asm" "$file"
  rm -f "$work"/messages/*
  begin_kate '"result":.*"data":'
}
# The line of the last hover that Kate asked for, from 0.
asked_line() { grep -a -A 12 '"method": "textDocument/hover"' "$work/messages/to-server" | grep -aoE '"line": [0-9]+' | tail -n 1 | grep -oE '[0-9]+'; }
# Where a line is depends on the fonts: each hover shows on which line the pointer rests, and so how far to go.
hovers() {
  local y=300 wanted line before try
  wanted=$(($(grep -niE '^ *__config' "$file" | head -n 1 | cut -d : -f 1) - 1))
  keys ctrl+Home
  for try in $(seq 1 20); do
    before=$(count to-server 'textDocument/hover')
    # The window of the hover before closes when the pointer leaves.
    xdotool mousemove 1000 600
    wait_a_moment 0.5
    xdotool mousemove 340 "$y" mousemove 342 "$y"
    if await 2 more_than to-server 'textDocument/hover' "$before"; then
      line=$(asked_line)
      # 0x3FF1: worked out in docs/demo/crossing-words.md.
      if [ "$line" = "$wanted" ]; then
        await 5 from_server '"result":.*0x3FF1' || return
        wait_a_moment 1
        picture kate-hover
        return
      fi
      y=$((y + (wanted - line) * 15))
    else
      # A blank line, or a gap: nothing is asked there.
      y=$((y + 8))
    fi
    { [ "$y" -gt 120 ] && [ "$y" -lt 600 ]; } || y=$((150 + try * 7))
  done
  return 1
}
renames() {
  go_to '^idle1' || return
  keys F2
  # The question for the name is a window of its own.
  xdotool search --sync --onlyvisible --name Rename >/dev/null || return
  wait_a_moment 0.5
  keys ctrl+a
  xdotool type quietly
  keys Return
  save_until '^quietly +call' && in_file 'goto +quietly$' && ! in_file idle1
}
saves() {
  rm -f "$work/ws/chip.hex"
  go_to '^; clock' || return
  keys End
  xdotool type ' (saved)'
  save_until 'clock.*saved' && await 10 cmp -s "$work/ws/chip.hex" "$expected_hex"
}

step 'the problems of the paste are reported and Kate is there' starts
step 'one fix by its key moves an operation out of column 1' fixes_one
step 'another program is opened' opens_the_whole_program
step 'the hover of the configuration line shows the word' hovers
step 'a rename changes the definition and every use' renames
step 'saving writes the HEX' saves
