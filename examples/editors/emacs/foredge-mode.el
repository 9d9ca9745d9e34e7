;;; foredge-mode.el --- designs of covers -*- lexical-binding: t -*-

;; With (require 'foredge-mode) and (add-hook 'foredge-mode-hook #'eglot-ensure)
;; Emacs shows errors, values and where they come from as you type.

;;; Code:

(defconst foredge-mode-keywords
  `((,(regexp-opt '("foredge" "units" "use" "let" "prefer" "check" "without" "weight" "else" "default"
                    "on" "like" "mirrors" "covers" "when" "and" "or" "not" "by" "exact" "along") 'symbols)
     . font-lock-keyword-face)
    (,(concat "\\(?:^\\|[{};]\\)[ \t]*"
              (regexp-opt '("binding" "case" "cutout" "field" "gap" "job" "laser" "lattice" "line" "make" "material" "notebook" "orders"
                            "panel" "pattern" "region" "row" "stitch" "stock" "style" "tabs") t)
              "[ \t]+\\([[:alpha:]][[:alnum:]-]*\\)")
     (1 font-lock-type-face) (2 font-lock-variable-name-face))
    ("\\_<\\(engrave\\|mark\\|score\\|cut\\|inlay\\)[ \t]+\\(text\\|art\\|frame\\)\\_>" (0 font-lock-builtin-face))
    (,(regexp-opt '("min" "max" "abs" "sqrt" "floor" "ceil" "nearest") 'symbols) . font-lock-function-name-face))
  "What is shown apart in a design.")

;;;###autoload
(define-derived-mode foredge-mode prog-mode "foredge"
  "Major mode for designs of covers."
  (modify-syntax-entry ?# "<") (modify-syntax-entry ?\n ">")
  (modify-syntax-entry ?- "_")
  (setq-local comment-start "# " comment-start-skip "#+[ \t]*"
              indent-tabs-mode nil
              font-lock-defaults '(foredge-mode-keywords)))

;;;###autoload
(add-to-list 'auto-mode-alist '("\\.fore\\'" . foredge-mode))

(defvar eglot-server-programs)
(with-eval-after-load 'eglot
  (add-to-list 'eglot-server-programs '(foredge-mode . ("foredge" "serve"))))

(provide 'foredge-mode)
;;; foredge-mode.el ends here
