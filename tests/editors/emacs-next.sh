#!/usr/bin/env bash
# The same job in the Emacs of the next Debian release (30), which brings its own eglot: that negotiates columns and takes versioned edits.
. "$(dirname "${BASH_SOURCE[0]}")/common/lib.sh"
. "$here/common/emacs.sh"
. "$here/common/next-debian.sh"
next_debian emacs-nox
shared=$(ls -d "$next"/root/usr/share/emacs/[0-9]*)
programs=$(ls -d "$next"/root/usr/libexec/emacs/*/*/)
libraries=$next/root/usr/lib/$(uname -m)-linux-gnu
# Emacs looks for its parts where it was built for: tell it where they are instead.
run_emacs eglot env EMACSLOADPATH="$(find "$shared/lisp" -type d | paste -sd :)" EMACSDATA="$shared/etc" EMACSDOC="$shared/etc" EMACSPATH="$programs" \
  "$libraries"/ld-linux-*.so.* --argv0 "$next/root/usr/bin/emacs-nox" --library-path "$libraries" "$next/root/usr/bin/emacs-nox" \
  --dump-file="$(ls "$programs"emacs-*.pdmp)"
