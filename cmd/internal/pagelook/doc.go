// Package pagelook is the look that our pages in browsers share: colours in light and in
// dark, the text, what can be pressed.
//
// Start from [CSS], which each page has beside its own style as look.css. Text keeps a contrast of
// 4.5 to 1 or more with what it stands on (Web Content Accessibility Guidelines 2.1, 1.4.3).
// It must never ask for anything from elsewhere.
package pagelook
