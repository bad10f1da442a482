#!/usr/bin/env bash
# The system's Neovim (0.7 on Debian 12) with editor-clients/neovim does the whole job on the pasted demo document.
. "$(dirname "${BASH_SOURCE[0]}")/common/lib.sh"
. "$here/common/neovim.sh"
need nvim neovim
run_neovim "neovim $(nvim --version | sed -n '1s/.*v//p')" nvim
