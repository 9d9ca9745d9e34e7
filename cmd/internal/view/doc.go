// Package view shows designs on a live page in a browser on this machine: each
// drawing with its dimensions and readings, what is wrong with it over the last
// good drawing, and all anew on every save.
//
// Start from [Designs], which builds in memory whatever a watch says has changed,
// and [Server], which shows that on the loopback address. The page asks for the
// scene of each design ([foredge/cmd/internal/scene]) and is told by server-sent
// events which of them are new. Its parts lie in the folder page and are compiled in.
//
// Whoever asks must call the server by its own address, and a page that asks must be
// the server's own: pages of other origins get nothing. There are only a handful of
// addresses, none of which is the name of a file; texts of designs are never served,
// but for single lines that a scene shows. An editor is only ever started on a file
// of a design that is shown, by the command that the maker stated.
//
// The package is the only one that listens or speaks HTTP. It writes no files.
package view
