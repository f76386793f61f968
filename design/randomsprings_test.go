//go:build quality && unix

package design

import (
	"context"
	"flag"
	"slices"
	"testing"
	"time"
	"fmt"
	"strings"
	"syscall"
)

// cpuTime is what this process has used of the processor: other work on the machine does not count.
func cpuTime() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}


var (
	randomSprings = flag.Int("springs", 1000, "how many random springs of each kind are solved")
	randomOnly    = flag.String("kind", "", "the one kind that is solved; empty: all")
	randomFrom    = flag.Int("from", 0, "the first spring")
)

func TestRandomSprings(t *testing.T) {
	for _, k := range randomKinds() {
		if *randomOnly != "" && *randomOnly != k.name {
			continue
		}
		var took []time.Duration
		causes := map[string]int{}
		var ok, tooShort int
		for n := *randomFrom; n < *randomFrom+*randomSprings; n++ {
			s := randomSpringOf(k, n)
			began := cpuTime()
			_, err := Evaluate(context.Background(), s, EvaluateOptions{AllowYield: true})
			d := cpuTime() - began
			took = append(took, d)
			if d > 300*time.Millisecond {
				t.Logf("SLOW %s %d %v %v", k.name, n, d, err)
			}
			if err == nil {
				ok++
				continue
			}
			text := err.Error()
			if chordMM(s) > s.Path.WireLengthMM() {
				tooShort++
				continue
			}
			if *randomOnly != "" {
				t.Logf("%s %d: chord %.3f of %.3f: %v", k.name, n, chordMM(s), s.Path.WireLengthMM(), err)
			}
			if i := strings.Index(text, "mm: "); i >= 0 {
				text = text[i+4:]
			}
			if i := strings.Index(text, ": reached"); i >= 0 {
				text = text[:i]
			}
			if i := strings.Index(text, "; the last"); i >= 0 {
				text = text[:i]
			}
			causes[text]++
		}
		slices.Sort(took)
		fmt.Println(k.name, *randomSprings, "ok", ok, "short", tooShort, "median", took[len(took)/2], "p99", took[len(took)*99/100], "max", took[len(took)-1], causes)
	}
}
