package designtest

import (
	"os"
	"path/filepath"
	"testing"

	"springwright/design/casefile"
	"springwright/design/solve"
	"springwright/design/spring"
)

// sampleSprings are the spring files that come with the tests.
func SampleSprings(t *testing.T) map[string]spring.Spring {
	t.Helper()
	files, err := filepath.Glob("../../testdata/springs/*.toml")
	if err != nil || len(files) < 3 {
		t.Fatalf("found %d springs: %v", len(files), err)
	}
	springs := map[string]spring.Spring{}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if springs[filepath.Base(file)], err = casefile.ReadSpring(file, text); err != nil {
			t.Fatal(err)
		}
	}
	return springs
}

func Evaluate(t *testing.T, s spring.Spring) solve.Evaluation {
	t.Helper()
	e, err := solve.Evaluate(t.Context(), s, solve.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return e
}
