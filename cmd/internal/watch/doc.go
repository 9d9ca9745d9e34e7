// Package watch tells when files that a build read have really changed.
//
// Start from [Watcher]: [Watcher.Follow] takes what the last build read, and
// [Watcher.Next] waits until some of it is different and has come to rest.
// [Run] is the whole loop of building and waiting.
//
// How it works, and why. Folders are watched, not files, since an editor that
// saves by renaming takes a watched file away. An event says only "look at
// this": what counts is whether a path, once nothing has happened to it for a
// moment, holds something other than the last build read. So doubled, merged,
// reordered and misnamed events do no harm, and the files that a build writes
// start no new one. A file that was saved again with what it held is told as well,
// for a maker who saves to have files again that are gone: whoever builds sees that
// nothing has changed. At long intervals every input is looked at without an
// event too, which makes up for events that a system loses or never sends;
// polling is the same with short intervals and no events at all.
//
// Invariants: a change that happens while a build runs is found by the next
// [Watcher.Next]; one goroutine takes events from the system and does nothing
// else; only the caller's goroutine builds and looks at files.
//
// The package is the only user of fsnotify. It never reads a design and never
// decides what to build.
package watch
