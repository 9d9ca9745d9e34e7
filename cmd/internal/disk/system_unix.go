//go:build unix

package disk

// busy reports whether another program has a file open just now: none has one
// here so that it couldn't be replaced.
func busy(error) bool { return false }

// systemReason puts what only this system says into plain words, or "".
func systemReason(error) string { return "" }
