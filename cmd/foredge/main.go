package main

import (
	"context"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
)

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(400) // a design is small: time is worth more than memory
	}
	signal.Ignore(syscall.SIGPIPE) // a closed pipe is told of, as a full disk is
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // a second Ctrl-C ends it at once
	status := run(ctx, &terminal{
		stdin:  os.Stdin,
		stdout: os.Stdout,
		stderr: os.Stderr,
		color:  wantsColor(os.Stderr, os.Getenv),
		tty:    rewrites(os.Stderr, os.Getenv),
		width:  func() int { return widthOf(os.Stderr) },
	}, os.Args[1:])
	stop()
	os.Exit(status)
}
