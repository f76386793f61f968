package casefolder

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
)

// folder is one with the case and the spring of a closed space.
func folder(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for name, from := range map[string]string{CaseName: "t-loop.toml", "spring.toml": "t-loop-spring.toml"} {
		data, err := os.ReadFile(filepath.Join("..", "..", "optimize", "visit", "testdata", from))
		if err == nil {
			err = os.WriteFile(filepath.Join(dir, name), data, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func open(t *testing.T, dir string) *Folder {
	t.Helper()
	f, err := Open(context.Background(), dir, os.ReadFile)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

const (
	seated = "date = 2026-03-02\ndone = \"seated\"\n"
	later  = "date = 2026-04-06\ndone = \"left as it is\"\n[now]\nalong_mm = 21.8\nocclusal_mm = 0.7\nlabial_mm = 0.1\n"
)

// A visit is appended to a history that nobody has written to since it was read, and to no other.
func TestAppend(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	f := open(t, dir)
	first, err := f.With("first.toml", []byte(seated))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, VisitsName)); err == nil {
		t.Fatal("a visit that is only tried is written")
	}
	if err := f.Append(first); err != nil {
		t.Fatal(err)
	}
	if err := f.Append(first); !errors.Is(err, ErrChanged) {
		t.Errorf("written again from what was read before: %v", err)
	}
	was, err := os.ReadFile(filepath.Join(dir, VisitsName))
	if err != nil {
		t.Fatal(err)
	}
	f = open(t, dir)
	second, err := f.With("second.toml", []byte(later))
	if err != nil {
		t.Fatal(err)
	}
	if err := f.Append(second); err != nil {
		t.Fatal(err)
	}
	now, err := os.ReadFile(filepath.Join(dir, VisitsName))
	if err != nil || !strings.HasPrefix(string(now), string(was)) || len(open(t, dir).Standing()) != 2 {
		t.Errorf("the history is no longer what it was, and more: %v\n%s", err, now)
	}
	if left, err := filepath.Glob(filepath.Join(dir, "*.adding")); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
	// A lock that somebody holds stops everything, and stays.
	lock := filepath.Join(dir, lockName)
	if err := os.WriteFile(lock, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := f.Append(second); !errors.Is(err, ErrChanged) || !strings.Contains(err.Error(), lockName) {
		t.Errorf("beside a lock: %v", err)
	}
	if _, err := os.Stat(lock); err != nil {
		t.Errorf("the lock of another is gone: %v", err)
	}
}

// A spring that was changed after it was seated is not the one that was.
func TestAChangedSpringIsRefused(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	f := open(t, dir)
	first, err := f.With("first.toml", []byte(seated))
	if err == nil {
		err = f.Append(first)
	}
	if err != nil {
		t.Fatal(err)
	}
	file, err := os.OpenFile(filepath.Join(dir, "spring.toml"), os.O_APPEND|os.O_WRONLY, 0)
	if err == nil {
		_, err = file.WriteString("\n# changed\n")
		file.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Open(context.Background(), dir, os.ReadFile); err == nil || !strings.Contains(err.Error(), "not the file that was there") {
		t.Errorf("error %v", err)
	}
}

// Of many who add a visit to the same history at once one does; the others are told, and the history holds his in full.
func TestOfManyWhoAddAVisitOneDoes(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	f := open(t, dir)
	const many = 10
	var with [many]*Folder
	for i := range with {
		var err error
		if with[i], err = f.With("today.toml", fmt.Appendf(nil, "%snote = \"%d\"\n", seated, i)); err != nil {
			t.Fatal(err)
		}
	}
	var errs [many]error
	var all sync.WaitGroup
	for i := range with {
		all.Go(func() { errs[i] = f.Append(with[i]) })
	}
	all.Wait()
	winner := slices.Index(errs[:], nil)
	if winner < 0 {
		t.Fatalf("nobody adds: %v", errs)
	}
	for i, err := range errs {
		if i != winner && !errors.Is(err, ErrChanged) {
			t.Errorf("writer %d: %v, want ErrChanged", i, err)
		}
	}
	if got := open(t, dir).Visits; len(got) != 1 || got[0].Note != fmt.Sprint(winner) {
		t.Errorf("the history holds %+v, want the visit of writer %d", got, winner)
	}
	if entries, err := os.ReadDir(dir); err != nil || len(entries) != 3 {
		t.Errorf("left behind: %v, %v", entries, err)
	}
}
