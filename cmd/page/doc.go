// Command page writes the static page in which designs are compiled by the browser
// itself:
//
//	go run ./cmd/page OUT
//
// The folder OUT then holds all that a web server needs to hand out; any will do that
// serves files. The page asks for nothing else, keeps what is written in it to itself,
// and works on without its server once it is loaded.
//
// The same command, compiled for GOOS=js, is the compiler in that page (main_js.go).
// It runs in a worker, which gives it the examples as files in memory (static/disk.js).
package main
