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
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(mostMemory)
	}
	if signals := writeSignals(); len(signals) > 0 { // none would be all
		signal.Ignore(signals...)
	}
	ctx, stop := signal.NotifyContext(context.Background(), ends()...)
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
	os.Exit(status) // to wait until no signal is on its way takes longer than all else
}

// mostMemory is from how many bytes on memory is worth more than time.
const mostMemory = 160 << 20

// ends are the signals that end a command: the first lets it leave everything
// whole. A program that is to outlive its terminal is started with SIGHUP ignored.
func ends() []os.Signal {
	signals := []os.Signal{os.Interrupt, syscall.SIGTERM}
	if !signal.Ignored(syscall.SIGHUP) {
		signals = append(signals, syscall.SIGHUP)
	}
	return signals
}
