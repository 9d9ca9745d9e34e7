package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"time"

	"foredge/cmd/internal/view"
	"foredge/cmd/internal/watch"
	"foredge/lang/source"
)

func viewCommand() *command {
	return &command{
		name:  "view",
		args:  "FILE...",
		most:  "[--open] [--port N] [--editor 'COMMAND']",
		short: "show designs on a live page in a browser of this machine",
		long: "The page shows each drawing with its dimensions and readings, and anew on every save; while a\n" +
			"design has errors, they stand over its last good drawing. No file is written, and no other\n" +
			"machine can see the page. A click tells the line of a thing, and opens it if you state an\n" +
			"editor: in its command {file} stands for the file, {line} and {column} for the place, as in\n" +
			"--editor 'gvim --remote-silent +{line} {file}'. The editor must bring a window of its own:\n" +
			"'xterm -e vim +{line} {file}'. Ctrl-C ends the page.",
		setup: func(flags *flag.FlagSet) runner {
			open := flags.Bool("open", false, "open the page in the browser")
			port := 0
			flags.Func("port", "serve at port `N` of 127.0.0.1; without it at any that is free", func(text string) error {
				n, err := strconv.Atoi(text)
				if err != nil || n < 1 || n > 65535 {
					return fmt.Errorf("a port is a whole number from 1 to 65535")
				}
				port = n
				return nil
			})
			editor := flags.String("editor", "", "open a place that is clicked by this `COMMAND`")
			poll := flags.Bool("poll", false, "look at the files again and again, for network drives that don't tell of changes")
			return func(ctx context.Context, t *terminal, args []string) int {
				if err := wantWatchable(args); err != nil {
					return t.fail(err)
				}
				for _, name := range args {
					if info, err := os.Stat(name); err == nil && info.IsDir() {
						return t.fail(misused("name its designs, as in foredge view "+filepath.Join(name, "*.fore"), "%q is a folder", name))
					}
				}
				var by *view.Editor
				if *editor != "" {
					var err error
					if by, err = view.NewEditor(*editor); err != nil {
						return t.fail(misused("write it as in --editor 'gvim --remote-silent +{line} {file}'", "%v", err))
					}
				}
				return viewing(ctx, t, args, port, by, *open, *poll)
			}
		},
	}
}

// viewQuiet is how long nothing must happen to a file before it is drawn anew. It is
// less than for cut files: a drawing of half a file is gone a moment later.
const viewQuiet = 20 * time.Millisecond

// viewing shows designs until ctx ends.
func viewing(ctx context.Context, t *terminal, names []string, port int, editor *view.Editor, open, poll bool) int {
	listener, err := view.Listen(port)
	if err != nil {
		return t.fail(misused("leave out --port, or name another", "port %d of 127.0.0.1 can't be had: %v", port, errors.Unwrap(err)))
	}
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	designs := view.NewDesigns(names)
	ended := make(chan error, 1)
	go func() {
		defer stop()
		ended <- view.NewServer(designs, editor).Serve(ctx, listener)
	}()
	address := "http://" + listener.Addr().String() + "/"
	watch.Run(ctx, watch.Options{
		Poll: poll, Quiet: viewQuiet,
		Notice: func(message string) { fmt.Fprintf(t.stderr, "note: %s\n", message) },
	}, func() {
		plain := make([]string, len(names))
		for i, name := range names {
			plain[i] = source.Plain(name)
		}
		fmt.Fprintf(t.stdout, "%s shows %s; Ctrl-C ends it\n", address, strings.Join(plain, ", "))
		if open {
			if err := browse(address); err != nil {
				fmt.Fprintf(t.stderr, "note: the browser can't be opened from here: %v\n", err)
			}
		}
	}, designs.Build)
	stop()
	if err := <-ended; err != nil {
		return t.fail(fmt.Errorf("the page can't be served any more: %w", err))
	}
	return done
}

// browse opens an address in the browser that the system knows.
func browse(address string) error {
	words := map[string][]string{"darwin": {"open"}, "windows": {"rundll32", "url.dll,FileProtocolHandler"}}[runtime.GOOS]
	if words == nil {
		words = []string{"xdg-open"}
	}
	cmd := exec.Command(words[0], append(words[1:], address)...)
	if err := cmd.Start(); err != nil {
		return err
	}
	go cmd.Wait()
	return nil
}
