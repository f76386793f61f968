package fault_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"springwright/design/fault"
)

func TestErrorTextNamesPlaceKeyAndHint(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name  string
		fault fault.Fault
		want  string
	}{
		{
			name:  "everything",
			fault: fault.Fault{File: "case.toml", Line: 12, Column: 5, Key: "wire.width_mm", Text: "0 mm is too small", Hint: "measure it"},
			want:  "case.toml:12:5: wire.width_mm: 0 mm is too small\n  hint: measure it",
		},
		{
			name:  "no place",
			fault: fault.Fault{File: "case.toml", Text: "is empty"},
			want:  "case.toml: is empty",
		},
		{
			name:  "from the command line",
			fault: fault.Fault{Key: "--height", Text: "6 kg is no length"},
			want:  "--height: 6 kg is no length",
		},
	}
	for _, tt := range tests {
		if got := tt.fault.Error(); got != tt.want {
			t.Errorf("%s: got %q, want %q", tt.name, got, tt.want)
		}
	}
}

func TestErrSortsByPlaceAndKeepsTheCallersOrder(t *testing.T) {
	t.Parallel()
	list := fault.List{
		{File: "a", Line: 3, Column: 1, Text: "third"},
		{File: "a", Line: 1, Column: 9, Text: "second"},
		{File: "a", Line: 1, Column: 2, Text: "first"},
		{File: "a", Line: 3, Column: 1, Text: "fourth"},
	}
	wrapped := fmt.Errorf("read: %w", list.Err())
	var sorted fault.List
	if !errors.As(wrapped, &sorted) {
		t.Fatal("errors.As does not find the list")
	}
	for i, want := range []string{"first", "second", "third", "fourth"} {
		if got := sorted[i].Text; got != want {
			t.Errorf("fault %d: got %q, want %q", i, got, want)
		}
	}
	if list[0].Text != "third" {
		t.Error("Err sorted the list it was called on")
	}
	if got, want := sorted[:2].Error(), "a:1:2: first\na:1:9: second"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestErrOfNoFaultsIsNil(t *testing.T) {
	t.Parallel()
	if err := (fault.List{}).Err(); err != nil {
		t.Errorf("got %v, want nil", err)
	}
}

func TestLongListsAreCutAndCounted(t *testing.T) {
	t.Parallel()
	for n, want := range map[int]string{
		20: "", 21: "f: and one more fault", 22: "f: and 2 more faults", 4332: "f: and 4312 more faults",
	} {
		list := slices.Repeat(fault.List{{File: "f", Text: "is wrong"}}, n)
		shown, more := list.Shown()
		if len(shown) != 20 || more != want {
			t.Errorf("of %d faults %d are shown, and %q", n, len(shown), more)
		}
		lines := strings.Split(list.Error(), "\n")
		if last := lines[len(lines)-1]; want != "" && (len(lines) != 21 || last != want) {
			t.Errorf("%d faults make %d lines, the last %q", n, len(lines), last)
		}
	}
}
