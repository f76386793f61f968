package designtest

import (
	"flag"
	"sync"
	"testing"

	"pgregory.net/rapid"
)

// CheckLaw holds a law on random draws: a few dozen of them and in every run the same, unless the flags of package
// rapid say otherwise. A long run:
//
//	go test ./design/solve -run TestLaw -v -timeout 3h -args -rapid.checks 10000 -rapid.seed 7
func CheckLaw(t *testing.T, law func(*rapid.T)) {
	t.Helper()
	fewAndTheSame()
	rapid.Check(t, law)
}

var fewAndTheSame = sync.OnceFunc(func() {
	usual := map[string]string{"rapid.checks": "25", "rapid.seed": "1", "rapid.nofailfile": "true"}
	flag.Visit(func(f *flag.Flag) { delete(usual, f.Name) })
	for name, value := range usual {
		if err := flag.Set(name, value); err != nil {
			panic(err) // the flags are those of package rapid
		}
	}
})
