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
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	status := run(ctx, &terminal{
		stdin:  os.Stdin,
		stdout: os.Stdout,
		stderr: os.Stderr,
		color:  wantsColor(os.Stderr, os.Getenv),
		tty:    isTerminal(os.Stderr),
	}, os.Args[1:])
	stop()
	os.Exit(status)
}
