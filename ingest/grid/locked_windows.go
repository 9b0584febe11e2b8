package grid

import (
	"errors"
	"syscall"
)

// locked reports whether another program holds the file (ERROR_SHARING_VIOLATION
// 32, ERROR_LOCK_VIOLATION 33: Microsoft, "System Error Codes").
func locked(err error) bool {
	var no syscall.Errno
	return errors.As(err, &no) && (no == 32 || no == 33)
}
