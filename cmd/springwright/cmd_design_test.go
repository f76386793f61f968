package main

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"springwright/design"
)

func TestSheetDate(t *testing.T) {
	today := time.Date(2026, 3, 4, 23, 30, 0, 0, time.UTC)
	for _, c := range []struct {
		epoch string
		set   bool
		want  string // "" for an error
	}{
		{"", false, "2026-03-04"},
		{"0", true, "1970-01-01"},
		{"1767225600", true, "2026-01-01"},
		{"", true, ""},
		{"yesterday", true, ""},
		{"12 March", true, ""},
		{"-1", true, ""},
	} {
		lookup := func(string) (string, bool) { return c.epoch, c.set }
		got, err := sheetDate(lookup, func() time.Time { return today })
		if (err != nil) != (c.want == "") || err == nil && got.Format(time.DateOnly) != c.want {
			t.Errorf("SOURCE_DATE_EPOCH %q (set %v): %v, %v, want %q", c.epoch, c.set, got, err, c.want)
		}
	}
}

func TestFingerprintFollowsCaseAndSettings(t *testing.T) {
	settings := design.Search{Seed: 1, LengthStepMM: 0.5, AngleStepRad: 0.01}
	base := fingerprint([]byte("case"), settings)
	if again := fingerprint([]byte("case"), settings); again != base || len(base) != 10 {
		t.Errorf("fingerprints %q and %q of one case, want one of 10 digits", base, again)
	}
	seen := map[string]bool{base: true}
	others := []design.Search{
		{Seed: 2, LengthStepMM: 0.5, AngleStepRad: 0.01},
		{Seed: 1, LengthStepMM: 0.25, AngleStepRad: 0.01},
		{Seed: 1, LengthStepMM: 0.5, AngleStepRad: 0.02},
		{Seed: 1, LengthStepMM: 0.5, AngleStepRad: 0.01, Starts: 3},
	}
	for _, o := range others {
		seen[fingerprint([]byte("case"), o)] = true
	}
	seen[fingerprint([]byte("Case"), settings)] = true
	if len(seen) != len(others)+2 {
		t.Errorf("%d different fingerprints, want %d", len(seen), len(others)+2)
	}
}

func TestDecimals(t *testing.T) {
	for _, c := range []struct {
		step float64
		want int
	}{{1, 0}, {5, 0}, {0.5, 1}, {0.25, 2}, {0.1, 1}, {0.001, 2}, {0, 0}} {
		if got := decimals(c.step); got != c.want {
			t.Errorf("decimals(%v) = %d, want %d", c.step, got, c.want)
		}
	}
}

// interrupter ends the context at the first line of progress: in the middle of the search.
type interrupter struct {
	text      bytes.Buffer // not embedded: io.WriteString would pass Write by
	interrupt context.CancelFunc
}

func (i *interrupter) Write(p []byte) (int, error) {
	if strings.Contains(string(p), "searching") {
		i.interrupt()
	}
	return i.text.Write(p)
}

func TestInterruptLeavesNothingBehind(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	stderr := &interrupter{interrupt: cancel}
	var stdout strings.Builder
	out := filepath.Join(t.TempDir(), "new", "out")
	code := run(ctx, []string{"design", "--out", out}, console{stdout: &stdout, stderr: stderr, live: true})
	if code != exitInterrupted {
		t.Errorf("exit code %d, want %d: %s", code, exitInterrupted, stderr.text.String())
	}
	if stdout.Len() > 0 || !strings.HasSuffix(stderr.text.String(), "springwright: error: interrupted, nothing was written\n") {
		t.Errorf("stdout %q, stderr %q", stdout.String(), stderr.text.String())
	}
	if _, err := os.Stat(filepath.Dir(out)); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the output directory stays behind: %v", err)
	}
}
