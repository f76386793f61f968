//go:build unix

package solve

import (
	"syscall"
	"testing"
	"time"
)

// cpuTime is what this process has used of the processor: other work on the machine does not
// count.
func cpuTime(t testing.TB) time.Duration {
	t.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		t.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
