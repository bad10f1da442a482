;;; The job through lsp-mode.  -*- lexical-binding: t -*-
(require 'lsp-mode)
(require 'flymake)
(setq lsp-session-file (expand-file-name ".lsp-session" (getenv "HOME")) lsp-enable-snippet nil lsp-diagnostics-provider :flymake
      lsp-auto-guess-root t lsp-auto-execute-action t lsp-enable-file-watchers nil lsp-keep-workspace-alive nil lsp-response-timeout 20
      run-name (format "emacs %s, lsp-mode" emacs-version))

(defun problems () (gethash (lsp--fix-path-casing buffer-file-name) (lsp-diagnostics t)))
(defun fix-with (kind)
  (let ((actions (lsp-code-actions-at-point kind)))
    (must (> (length actions) 0) "No action")
    (lsp-execute-code-action (seq-first actions))))

(step "a pasted listing is known as one and the server starts"
      (lambda ()
        (open-demo)
        (lsp-workspace-folders-add (getenv "WORKSPACE"))
        (lsp)
        (await "the server" (lambda () (and (lsp-workspaces) (eq 'initialized (lsp--workspace-status (car (lsp-workspaces)))))))))
(step "the problems of the paste are shown"
      (lambda () (await "problems" (lambda () (> (length (problems)) 20)))))
(step "one fix moves an operation out of column 1"
      (lambda ()
        (put-point "^goto start" "goto")
        (fix-with nil)
        (must (string-match-p "^ +goto +start$" (this-line)) "The line is %s" (this-line))))
(step "source.fixAll makes every certain fix"
      (lambda ()
        (relist-fix-all)
        (must (and (text-has "^ +retfie") (not (text-has "^retfie"))) "The text is not fixed")))
(step "no error is left when a person has given the rests of comments their semicolon"
      (lambda ()
        (mark-rests-of-comments)
        (lsp--flush-delayed-changes)
        (await "no error" (lambda () (not (cl-some (lambda (problem) (eql 1 (lsp:diagnostic-severity? problem))) (problems)))))))
(step "the hover of the configuration line shows the word"
      (lambda ()
        (put-point "__CONFIG" "_WDT_OFF")
        (let* ((contents (lsp:hover-contents (lsp-request "textDocument/hover" (lsp--text-document-position-params))))
               (reported (lsp--render-element contents)))
          ;; Worked out in docs/demo/crossing-words.md.
          (must (string-match-p "0x3FF1" reported) "It says %s" reported))))
(step "formatting puts a shifted line back into its columns"
      (lambda ()
        (lsp-format-buffer)
        (let ((right (shift-a-line)))
          (lsp-format-buffer)
          (put-point "^start" "start")
          (must (equal (this-line) right) "The line is %s" (this-line)))))
(step "a rename changes the definition and every use"
      (lambda ()
        (put-point "^idle1" "idle1")
        (lsp-rename "quietly")
        (must (and (text-has "^quietly +call +look") (text-has "goto +quietly$") (not (text-has "idle1"))) "The names are wrong")))
(step "saving writes the HEX"
      (lambda ()
        (save-buffer)
        (await "the HEX" (lambda () (equal (file-bytes (hex-file)) (file-bytes (getenv "EXPECTED_HEX")))))))
(defun problems-with (pattern)
  (cl-count-if (lambda (problem) (string-match-p pattern (lsp:diagnostic-message problem))) (problems)))
(defun managed ()
  (unless (bound-and-true-p lsp-mode) (lsp))
  (lsp-workspaces))
(step "the build command writes the HEX" #'build-by-command)
(step "relist-recover makes the source of the leaflet, and its HEX is that of the demo" (lambda () (recover-leaflet #'managed)))
(step "relist-recover marks the two places that were guessed, and they are shown as problems"
      (lambda () (recover-doubtful (lambda (pattern) (managed) (problems-with pattern)))))
(step "relist-recover asks before it writes over a file" #'recover-over-a-file)
(step "a listing pasted into a new file is known when it is saved, and source.fixAll puts it right" (lambda () (paste-into-a-new-file #'managed)))
