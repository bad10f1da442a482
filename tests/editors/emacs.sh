#!/usr/bin/env bash
# Emacs with editor-clients/emacs does the job on the pasted demo document, once through eglot, once through lsp-mode.
. "$(dirname "${BASH_SOURCE[0]}")/common/lib.sh"
. "$here/common/emacs.sh"
need emacs emacs-nox
dpkg -s elpa-lsp-mode elpa-eglot >/dev/null 2>&1 || need no-such-command elpa-eglot elpa-lsp-mode
for client in eglot lsp-mode; do run_emacs "$client" emacs; done
