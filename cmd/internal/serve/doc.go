// Package serve answers editors: it is a language server (Language Server Protocol 3.17)
// over a [driver.Session].
//
// Start from [Serve]. A document's text is what the editor holds, saved or not; each
// change is taken through all that `foredge check` does, and what is told is the same,
// word for word. A change that comes before that is done stops it.
//
// It writes nothing: changes are handed to the editor, which makes them or not. A text
// with errors is answered as far as it is understood.
package serve
