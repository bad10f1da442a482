#!/usr/bin/env bash
# The same job in the Neovim of the next Debian release (0.10: it starts clients, formats and pulls problems by other calls than 0.7).
. "$(dirname "${BASH_SOURCE[0]}")/common/lib.sh"
. "$here/common/neovim.sh"
. "$here/common/next-debian.sh"
next_debian neovim
libraries=$next/root/usr/lib/$(uname -m)-linux-gnu/lua/5.1
parsers=$next/root/usr/lib/nvim
next_command nvim "VIMRUNTIME=$next/root/usr/share/nvim/runtime LUA_PATH='$next/root/usr/share/lua/5.1/?.lua;;' LUA_CPATH='$libraries/?.so;;'"
run_neovim "neovim $("$work/bin/nvim" --version | sed -n '1s/.*v//p')" "$work/bin/nvim"
