package batch

import (
	"errors"
	"fmt"
	"path/filepath"

	"springwright/design/orders"
)

// ErrBusy means that another run is at work in the folder.
var ErrBusy = errors.New("another run is at work")

// lockName begins the names of files that a run holds open and locked. The system takes the lock off when the
// run ends, however it ends: one that was killed leaves a file that nobody holds, and stops nobody.
const lockName = ".springwright-batch"

// Lock keeps other runs out of a folder until it is released: a run of the whole list all of them, a run of a part
// those of the whole list and of the same part. The error wraps ErrBusy where another run is there.
func Lock(dir string, part orders.Part) (release func(), err error) {
	whole := part == (orders.Part{})
	all, err := lockFile(filepath.Join(dir, lockName+".lock"), whole)
	if err != nil || whole {
		return all, err
	}
	own, err := lockFile(filepath.Join(dir, fmt.Sprintf("%s-%d-of-%d.lock", lockName, part.Number, part.Of)), true)
	if err != nil {
		all()
		return nil, err
	}
	return func() { own(); all() }, nil
}
