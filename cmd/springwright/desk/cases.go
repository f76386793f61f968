package desk

import (
	"crypto/sha256"
	"strings"
	"sync"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/presets"
)

// caseCache keeps the last cases that were read: while a bend is dragged the same text comes a
// hundred times.
type caseCache struct {
	mu   sync.Mutex
	kept []keptCase // the newest first
}

type keptCase struct {
	sum [sha256.Size]byte
	c   design.Case
	err error
}

const mostKept = 8

// get reads a case; the error is that of casefile.ReadCase.
func (k *caseCache) get(text string) (design.Case, error) {
	sum := sha256.Sum256([]byte(text))
	k.mu.Lock()
	defer k.mu.Unlock()
	for _, kept := range k.kept {
		if kept.sum == sum {
			return kept.c, kept.err
		}
	}
	c, err := casefile.ReadCase("", []byte(text))
	k.kept = append([]keptCase{{sum, c, err}}, k.kept[:min(len(k.kept), mostKept-1)]...)
	return c, err
}

// springName is the name of the spring file beside a case file.
func springName(name string) string {
	return strings.TrimSuffix(name, caseSuffix) + "-spring" + caseSuffix
}

// exampleName is the case that is there before anybody has made one.
const exampleName = presets.Demo + caseSuffix

// example is a case of the program, for a folder that has no file of its name.
func example(name string) (fileJSON, bool) {
	preset, isTOML := strings.CutSuffix(name, caseSuffix)
	text, _, err := presets.Case(preset)
	if !isTOML || err != nil {
		return fileJSON{}, false
	}
	return fileJSON{Name: name, Text: string(text)}, true
}
