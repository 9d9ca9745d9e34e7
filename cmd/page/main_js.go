package main

import (
	"context"
	"encoding/json"
	"runtime/debug"
	"syscall/js"

	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/page"
)

// main hands the worker what it may call, and waits for calls until the worker ends.
// Files are read by calling the worker back, so each call returns at once and tells its
// answer later.
func main() {
	debug.SetGCPercent(200) // a page has less memory than a bench, and no other use of the time
	session := driver.NewSession(nil)
	js.Global().Set("build", js.FuncOf(func(_ js.Value, args []js.Value) any {
		design, tell := args[0].String(), args[1]
		go func() {
			answer, files := page.Build(context.Background(), session, design)
			contents := make([]any, len(files))
			for i, f := range files {
				bytes := js.Global().Get("Uint8Array").New(len(f.Data))
				js.CopyBytesToJS(bytes, f.Data)
				contents[i] = bytes
			}
			text, _ := json.Marshal(answer) // it is made of texts and numbers alone
			tell.Invoke(string(text), contents)
		}()
		return nil
	}))
	js.Global().Set("layOut", js.FuncOf(func(_ js.Value, args []js.Value) any {
		laid, ok := page.LayOut(args[0].String(), args[1].String())
		if !ok {
			return nil
		}
		return laid
	}))
	js.Global().Call("compilerIsThere")
	select {}
}
