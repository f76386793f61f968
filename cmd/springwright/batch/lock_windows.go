package batch

import (
	"errors"
	"syscall"
)

// errSharing is ERROR_SHARING_VIOLATION: another program holds the file open.
const errSharing = syscall.Errno(32)

// lockFile holds a file open, which is made where it is missing: alone, or beside others that do not want it
// alone. Windows closes it when the program ends.
func lockFile(name string, alone bool) (release func(), err error) {
	path, err := syscall.UTF16PtrFromString(name)
	if err != nil {
		return nil, err
	}
	share := uint32(syscall.FILE_SHARE_READ)
	if alone {
		share = 0
	}
	handle, err := syscall.CreateFile(path, syscall.GENERIC_READ, share, nil, syscall.OPEN_ALWAYS, syscall.FILE_ATTRIBUTE_NORMAL, 0)
	switch {
	case errors.Is(err, errSharing):
		return nil, ErrBusy
	case err != nil:
		return nil, err
	}
	return func() { syscall.CloseHandle(handle) }, nil
}
