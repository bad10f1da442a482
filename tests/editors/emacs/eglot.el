;;; The job through eglot.  -*- lexical-binding: t -*-
(require 'eglot)
(require 'flymake)
(setq eglot-sync-connect 20 eglot-autoshutdown nil eglot-confirm-server-initiated-edits nil
      run-name (format "emacs %s, eglot" emacs-version))

(defun send-changes ()
  "Idle timers do not run in batch: tell the server what was changed."
  (eglot--signal-textDocument/didChange))
(defun problems () (flymake-diagnostics))
(defun problem-on-line ()
  (cl-some (lambda (problem) (= (line-number-at-pos (flymake-diagnostic-beg problem)) (line-number-at-pos))) (problems)))
(defun choose-first () "Answers a menu by its first entry."
  (lambda (_prompt entries &rest _) (let ((first (car (all-completions "" entries)))) first)))

(step "a pasted listing is known as one and the server starts"
      (lambda ()
        (open-demo)
        (setq eldoc-display-functions nil)
        (apply #'eglot--connect (eglot--guess-contact))
        (await "the server" (lambda () (bound-and-true-p eglot--managed-mode)))))
(step "the problems of the paste are shown"
      (lambda ()
        (flymake-start)
        (await "problems" (lambda () (> (length (problems)) 20)))))
(step "one fix from the menu moves an operation out of column 1"
      (lambda ()
        (put-point "^goto start" "goto")
        (await "the problem" #'problem-on-line)
        (cl-letf (((symbol-function 'completing-read) (choose-first)))
          (let ((last-nonmenu-event t)) (eglot-code-actions (point) (point) nil t)))
        (must (string-match-p "^ +goto +start$" (this-line)) "The line is %s" (this-line))
        (send-changes)
        (await "the problem gone" (lambda () (not (problem-on-line))))))
(step "source.fixAll makes every certain fix"
      (lambda ()
        (cl-letf (((symbol-function 'completing-read) (choose-first)))
          (let ((last-nonmenu-event t)) (relist-fix-all)))
        (must (and (text-has "^ +retfie") (not (text-has "^retfie"))) "The text is not fixed")))
(step "no error is left when a person has given the rests of comments their semicolon"
      (lambda ()
        (mark-rests-of-comments)
        (send-changes)
        (await "no error" (lambda () (not (cl-some (lambda (problem) (eq (flymake-diagnostic-type problem) 'eglot-error)) (problems)))))))
(step "the hover of the configuration line shows the word"
      (lambda ()
        (put-point "__CONFIG" "_WDT_OFF")
        (let (reported)
          (eglot-hover-eldoc-function (lambda (text &rest _) (when text (setq reported (substring-no-properties text)))))
          (await "the hover" (lambda () reported))
          ;; Worked out in docs/demo/crossing-words.md.
          (must (string-match-p "0x3FF1" reported) "It says %s" reported))))
(step "formatting puts a shifted line back into its columns"
      (lambda ()
        (eglot-format-buffer)
        (let ((right (shift-a-line)))
          (eglot-format-buffer)
          (put-point "^start" "start")
          (must (equal (this-line) right) "The line is %s" (this-line)))))
(step "a rename changes the definition and every use"
      (lambda ()
        (send-changes)
        (put-point "^idle1" "idle1")
        (eglot-rename "quietly")
        (must (and (text-has "^quietly +call +look") (text-has "goto +quietly$") (not (text-has "idle1"))) "The names are wrong")))
(step "a definition is gone to"
      (lambda ()
        (put-point "call +recall" "recall")
        (call-interactively #'xref-find-definitions)
        (must (string-match-p "^recall" (this-line)) "The cursor is at %s" (this-line))))
(step "saving writes the HEX"
      (lambda ()
        (save-buffer)
        (await "the HEX" (lambda () (equal (file-bytes (hex-file)) (file-bytes (getenv "EXPECTED_HEX")))))))
(defun problems-with (pattern)
  (flymake-start)
  (cl-count-if (lambda (problem) (string-match-p pattern (flymake-diagnostic-text problem))) (problems)))
(defun managed () (bound-and-true-p eglot--managed-mode))
(step "the build command writes the HEX" #'build-by-command)
(step "relist-recover makes the source of the leaflet, and its HEX is that of the demo" (lambda () (recover-leaflet #'managed)))
(step "relist-recover marks the two places that were guessed, and they are shown as problems" (lambda () (recover-doubtful #'problems-with)))
(step "relist-recover asks before it writes over a file" #'recover-over-a-file)
(step "a listing pasted into a new file is known when it is saved, and source.fixAll puts it right"
      (lambda ()
        (cl-letf (((symbol-function 'completing-read) (choose-first)))
          (let ((last-nonmenu-event t)) (paste-into-a-new-file #'managed)))
        (eglot-shutdown (eglot-current-server))))
