package disk

import (
	"errors"
	"os"
	"syscall"
)

// What Windows says, by its numbers (System Error Codes).
const (
	deletePending    = syscall.Errno(5) // ERROR_ACCESS_DENIED, which also an open file gives
	sharingViolation = syscall.Errno(32)
	lockViolation    = syscall.Errno(33)
	handleDiskFull   = syscall.Errno(39)
	noData           = syscall.Errno(232)
	diskFull         = syscall.Errno(112)
)

// busy reports whether another program has a file open just now.
func busy(err error) bool {
	return errors.Is(err, sharingViolation) || errors.Is(err, lockViolation) || errors.Is(err, deletePending)
}

// systemReason puts what only this system says into plain words, or "".
func systemReason(err error) string {
	switch {
	case errors.Is(err, diskFull), errors.Is(err, handleDiskFull):
		return "the disk is full"
	case errors.Is(err, sharingViolation), errors.Is(err, lockViolation):
		return "another program has it open"
	case errors.Is(err, syscall.ERROR_BROKEN_PIPE), errors.Is(err, noData):
		return "what reads it has ended"
	}
	return ""
}

// names is how many names a file has; 1 where the disk doesn't say.
func names(f *os.File) int {
	var info syscall.ByHandleFileInformation
	if syscall.GetFileInformationByHandle(syscall.Handle(f.Fd()), &info) != nil {
		return 1
	}
	return int(info.NumberOfLinks)
}
