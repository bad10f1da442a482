;;; relist.el --- Mid-range PIC assembly by the language server relist  -*- lexical-binding: t -*-

;; Version: 0.1.0
;; Package-Requires: ((emacs "27.1"))
;; Keywords: languages, hardware
;; SPDX-License-Identifier: MIT

;;; Commentary:
;; A major mode for sources of mid-range chips, and what eglot and lsp-mode have to know to start the server for it.
;; Other assembly stays in the mode that it had.

;;; Code:
(require 'cl-lib)
(require 'json)
(require 'project)

(defgroup relist nil "Mid-range PIC assembly." :group 'languages)
(defcustom relist-command "relist" "The program, or a list of it and arguments that come first." :type '(choice string (repeat string)) :group 'relist)
(defcustom relist-chip nil "The chip, where the source names none, such as \"16F84A\"." :type '(choice (const nil) string) :group 'relist)
(defcustom relist-clock nil "The clock with its unit, where the source names none, such as \"4 MHz\"." :type '(choice (const nil) string) :group 'relist)
(defcustom relist-build-on-save t "Whether saving a program writes its HEX file too." :type 'boolean :group 'relist)
(defcustom relist-output nil "Where the HEX file goes, from the folder of the source; beside the source when nil." :type '(choice (const nil) string) :group 'relist)

(defun relist--command (&rest arguments)
  (append (if (listp relist-command) relist-command (list relist-command)) arguments))

;;; The mode

(defvar relist-mode-syntax-table
  (let ((table (make-syntax-table prog-mode-syntax-table)))
    (modify-syntax-entry ?\; "<" table)
    (modify-syntax-entry ?\n ">" table)
    (modify-syntax-entry ?_ "_" table)
    (modify-syntax-entry ?' "." table)
    table))

(defconst relist--words
  (regexp-opt '("addwf" "andwf" "clrf" "clrw" "comf" "decf" "decfsz" "incf" "incfsz" "iorwf" "movf" "movwf" "nop" "rlf" "rrf" "subwf" "swapf"
                "xorwf" "bcf" "bsf" "btfsc" "btfss" "addlw" "andlw" "call" "clrwdt" "goto" "iorlw" "movlw" "retfie" "retlw" "return" "sleep"
                "sublw" "xorlw" "option" "tris" "banksel" "pagesel") 'symbols))

(defvar relist-mode-font-lock-keywords
  `((,relist--words . font-lock-keyword-face)
    ("^[[:space:]]*\\(#[[:space:]]*\\(?:include\\|define\\|undefine\\)\\|list\\|include\\|processor\\|radix\\|org\\|__config\\|cblock\\|endc\\|if\\(?:n?def\\)?\\|else\\|endif\\|end\\|endm\\|d[wbtea]\\|res\\)\\_>" 1 font-lock-preprocessor-face)
    ("^\\([A-Za-z_?][A-Za-z0-9_?]*\\):?[[:space:]]+\\(?:equ\\|set\\|macro\\)\\_>" 1 font-lock-variable-name-face)
    ("^[A-Za-z_?][A-Za-z0-9_?]*" . font-lock-function-name-face)))

;;;###autoload
(define-derived-mode relist-mode prog-mode "PIC"
  "Mid-range PIC assembly."
  (setq-local comment-start "; " comment-start-skip ";+[ \t]*" tab-width 8 indent-tabs-mode nil)
  (setq-local font-lock-defaults '(relist-mode-font-lock-keywords nil t))
  (setq-local indent-line-function #'relist-indent-line))

;;;###autoload
(define-derived-mode relist-hex-mode fundamental-mode "HEX"
  "HEX files of mid-range chips: hover, outline and problems come from the server.")

(defun relist-hex-p ()
  "Whether this buffer, named like a HEX file, starts with a record of one."
  (and buffer-file-name
       (string-match-p "\\.hex\\'" (downcase buffer-file-name))
       (save-excursion (goto-char (point-min)) (looking-at-p "[ \t]*:[0-9A-Fa-f]\\{8\\}"))))

;;;###autoload
(add-to-list 'magic-mode-alist '(relist-hex-p . relist-hex-mode))

(defun relist-indent-line ()
  "Moves to the next of the usual columns: operation, operand, comment."
  (interactive)
  (indent-to (* 8 (1+ (/ (current-column) 8)))))

(defvar relist--typical
  (concat "^[ \t]*\\(?:list[ \t].*\\<p[ \t]*=[ \t]*\"?\\(?:p\\|pic\\)?1[0246][a-z]\\|processor[ \t]+\"?\\(?:p\\|pic\\)?1[0246][a-z]"
          "\\|#?include[ \t]*[<\"]?p1[0246][a-z]\\|__config[ \t]\\)"))
(defvar relist--others
  (concat "^[ \t]*\\(?:list[ \t].*\\<p[ \t]*=[ \t]*\"?\\(?:p\\|pic\\)?1[78][a-z]\\|processor[ \t]+\"?\\(?:p\\|pic\\)?1[78][a-z]"
          "\\|#?include[ \t]*[<\"]?p1[78][a-z]\\)"))

(defvar relist--operation
  "^[^;\n]*\\_<\\(?:movlw\\|movwf\\|movf\\|bcf\\|bsf\\|btfs[cs]\\|decfsz\\|incfsz\\|retlw\\|retfie\\|clrwdt\\|clrf\\|andlw\\|xorlw\\|banksel\\)\\_>")

(defun relist-source-p ()
  "Whether this buffer, named like assembly, plainly is for a mid-range chip."
  (let ((case-fold-search t) (end (min (point-max) 40000)))
    (and buffer-file-name
         (string-match-p "\\.\\(?:asm\\|inc\\|src\\)\\'" buffer-file-name)
         (save-excursion
           (goto-char (point-min))
           (not (re-search-forward relist--others end t)))
         (save-excursion
           (goto-char (point-min))
           (or (save-excursion (re-search-forward relist--typical end t))
               ;; Three lines with operations that only this family has.
               (cl-loop repeat 3 always (and (re-search-forward relist--operation end t) (progn (end-of-line) t))))))))

;;;###autoload
(add-to-list 'magic-mode-alist '(relist-source-p . relist-mode))

;;; The folder of a program: the nearest one with relist.json goes before version control.

(defun relist--project (folder)
  (let ((root (locate-dominating-file folder "relist.json")))
    (and root (cons 'relist (expand-file-name root)))))
(cl-defmethod project-root ((project (head relist))) (cdr project))
(add-hook 'project-find-functions #'relist--project)

;;; eglot

(defvar eglot-server-programs)
(defvar eglot-workspace-configuration)
(declare-function eglot-code-actions "eglot")

(defun relist--settings ()
  "The settings as eglot hands them to the server."
  `(:relist (:chip ,relist-chip :clock ,relist-clock :buildOnSave ,(if relist-build-on-save t :json-false) :output ,relist-output)))

(defun relist--register-eglot ()
  "Puts the settings beside those of other servers: eglot looks for them in no buffer of a file.
A function, and the older form as an association list, are left to the person who wrote them."
  (let ((all (default-value 'eglot-workspace-configuration)))
    (when (and (listp all) (or (null all) (keywordp (car all))))
      (setq-default eglot-workspace-configuration (plist-put (copy-sequence all) :relist (plist-get (relist--settings) :relist))))))

(with-eval-after-load 'eglot
  (add-to-list 'eglot-server-programs (cons '(relist-mode relist-hex-mode) (lambda (&rest _) (relist--command "serve" "--stdio"))))
  (add-hook 'relist-mode-hook #'relist--register-eglot))

;;; lsp-mode

(declare-function lsp-execute-code-action-by-kind "lsp-mode")
(declare-function lsp-register-client "lsp-mode")
(declare-function lsp-register-custom-settings "lsp-mode")
(declare-function make-lsp-client "lsp-mode")
(declare-function lsp-stdio-connection "lsp-mode")
(defvar lsp-language-id-configuration)

(with-eval-after-load 'lsp-mode
  (add-to-list 'lsp-language-id-configuration '(relist-mode . "relist"))
  (add-to-list 'lsp-language-id-configuration '(relist-hex-mode . "relist-hex"))
  (lsp-register-custom-settings
   '(("relist.chip" relist-chip) ("relist.clock" relist-clock) ("relist.buildOnSave" relist-build-on-save t) ("relist.output" relist-output)))
  (lsp-register-client
   (make-lsp-client :new-connection (lsp-stdio-connection (lambda () (relist--command "serve" "--stdio")))
                    :major-modes '(relist-mode relist-hex-mode) :server-id 'relist)))

;;; Commands

(defun relist-build ()
  "Saves this source and builds its HEX file; the summary is shown."
  (interactive)
  (save-buffer)
  (compile (mapconcat #'shell-quote-argument (relist--command "build" buffer-file-name) " ")))

(defun relist-card ()
  "Makes the bench card of this file, a source or a HEX file, and opens it in the browser."
  (interactive)
  (let* ((page (make-temp-file "relist-card-" nil ".html"))
         (command (apply #'relist--command "card" buffer-file-name "-o" page (when relist-chip (list "--chip" relist-chip)))))
    (with-current-buffer (get-buffer-create "*relist*")
      (erase-buffer)
      (unless (eq 0 (apply #'call-process (car command) nil t nil (cdr command)))
        (display-buffer (current-buffer))
        (user-error "The card could not be made")))
    (browse-url-of-file page)))

(defun relist-recover (document)
  "Recovers DOCUMENT, a PDF or pasted text, into a source beside it and opens that."
  (interactive "fDocument or pasted text: ")
  (let* ((input (expand-file-name document))
         (output (concat (file-name-sans-extension input) (if (string-suffix-p ".asm" input t) "-recovered" "") ".asm")))
    (when (and (file-exists-p output) (not (yes-or-no-p (format "%s is there already; write over it? " output))))
      (user-error "Nothing was written"))
    (with-current-buffer (get-buffer-create "*relist*")
      (erase-buffer)
      (let* ((command (relist--command "recover" input "-o" output))
             (status (apply #'call-process (car command) nil t nil (cdr command))))
        (unless (memql status '(0 1)) (display-buffer (current-buffer)) (user-error "The document could not be recovered"))
        (display-buffer (current-buffer))))
    (find-file output)))

(defun relist-fix-all ()
  "Makes every certain fix in this buffer, through the client that runs in it."
  (interactive)
  (if (bound-and-true-p lsp-mode)
      (lsp-execute-code-action-by-kind "source.fixAll")
    (eglot-code-actions (point-min) (point-max) "source.fixAll.relist" t)))

(define-key relist-mode-map (kbd "C-c C-b") #'relist-build)
(define-key relist-mode-map (kbd "C-c C-x") #'relist-fix-all)

(provide 'relist)
;;; relist.el ends here
