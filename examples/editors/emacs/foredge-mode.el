;;; foredge-mode.el --- designs of covers -*- lexical-binding: t -*-

;; With (require 'foredge-mode) and (add-hook 'foredge-mode-hook #'eglot-ensure)
;; Emacs shows errors, values and where they come from as you type. Emacs has eglot
;; from version 29 on; before that it is a package of its own.

;;; Code:

(defconst foredge-mode-keywords
  `((,(regexp-opt '("foredge" "units" "use" "let" "prefer" "check" "without" "weight" "else" "default"
                    "on" "like" "mirrors" "covers" "when" "and" "or" "not" "by" "less" "exact" "along") 'symbols)
     . font-lock-keyword-face)
    ("\\_<\\(at\\)[ \t]+\\(?:head\\|tail\\)-\\(?:left\\|right\\)\\_>" (1 font-lock-keyword-face))
    (,(concat "\\(?:^\\|[{};]\\)[ \t]*"
              (regexp-opt '("binding" "case" "cutout" "field" "gap" "job" "laser" "lattice" "line" "make" "material" "notebook" "orders"
                            "panel" "pattern" "region" "row" "stitch" "stock" "style" "tabs") t)
              "[ \t]+\\([[:alpha:]][[:alnum:]-]*\\)")
     (1 font-lock-type-face) (2 font-lock-variable-name-face))
    ("\\_<\\(engrave\\|mark\\|score\\|cut\\|inlay\\)[ \t]+\\(text\\|art\\|frame\\)\\_>" (0 font-lock-builtin-face))
    (,(regexp-opt '("min" "max" "abs" "sqrt" "floor" "ceil" "nearest") 'symbols) . font-lock-function-name-face))
  "What is shown apart in a design.")

;; Two columns for each brace that is open, as all designs are laid out; a list that
;; goes on in the next line four more.

(defun foredge-mode-goes-on ()
  "Whether the line at point goes on with a list of the one before."
  (save-excursion
    (beginning-of-line)
    (forward-comment (- (point)))
    (eq (char-before) ?,)))

(defun foredge-mode-column ()
  "The column in which the line at point begins."
  (save-excursion
    (back-to-indentation)
    (let ((depth (car (syntax-ppss))) (goes-on (foredge-mode-goes-on)) (has-text (not (eolp))))
      (while (looking-at "[};]")
        (when (eq (char-after) ?}) (setq depth (1- depth)))
        (forward-char)
        (skip-chars-forward " \t"))
      (cond ((not goes-on) (* 2 (max 0 depth)))
            (has-text (current-indentation)) ; it may be set in columns
            ((progn (forward-comment (- (point))) (foredge-mode-goes-on)) (current-indentation))
            (t (+ 4 (current-indentation)))))))

(defun foredge-mode-indent-line ()
  "Move the line at point to its column."
  (let ((column (foredge-mode-column)))
    (if (> (current-column) (current-indentation))
        (save-excursion (indent-line-to column))
      (indent-line-to column))))

;;;###autoload
(define-derived-mode foredge-mode prog-mode "foredge"
  "Major mode for designs of covers."
  (modify-syntax-entry ?# "<") (modify-syntax-entry ?\n ">")
  (modify-syntax-entry ?- "_")
  (setq-local comment-start "# " comment-start-skip "#+[ \t]*"
              indent-tabs-mode nil
              indent-line-function #'foredge-mode-indent-line
              electric-indent-chars (cons ?} electric-indent-chars)
              font-lock-defaults '(foredge-mode-keywords)))

;;;###autoload
(add-to-list 'auto-mode-alist '("\\.fore\\'" . foredge-mode))

(defvar eglot-server-programs)
(with-eval-after-load 'eglot
  (add-to-list 'eglot-server-programs '(foredge-mode . ("foredge" "serve"))))

(provide 'foredge-mode)
;;; foredge-mode.el ends here
