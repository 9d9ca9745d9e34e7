//go:build !js

package main

import (
	"context"
	"fmt"
	"os"
)

func main() {
	if len(os.Args) != 2 || os.Args[1] == "" || os.Args[1][0] == '-' {
		fmt.Fprintln(os.Stderr, "write the folder for the page: go run ./cmd/page OUT")
		os.Exit(2)
	}
	if err := write(context.Background(), os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, "the page can't be written:", err)
		os.Exit(1)
	}
}
