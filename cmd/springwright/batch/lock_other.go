//go:build !windows

package batch

import (
	"errors"
	"fmt"
	"os"
	"syscall"
)

// lockFile locks a file, which is made where it is missing: alone, or beside others that do not want it alone.
func lockFile(name string, alone bool) (release func(), err error) {
	file, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o666)
	if err != nil {
		return nil, err
	}
	how := syscall.LOCK_SH
	if alone {
		how = syscall.LOCK_EX
	}
	for {
		err = syscall.Flock(int(file.Fd()), how|syscall.LOCK_NB)
		if !errors.Is(err, syscall.EINTR) {
			break
		}
	}
	switch {
	case errors.Is(err, syscall.EWOULDBLOCK):
		err = ErrBusy
	case errors.Is(err, errors.ErrUnsupported), errors.Is(err, syscall.ENOLCK):
		err = fmt.Errorf("%s: this file system knows no locks: %w", name, err)
	}
	if err != nil {
		file.Close()
		return nil, err
	}
	return func() { file.Close() }, nil
}
