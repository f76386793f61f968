package course_test

import (
	"fmt"
	"strings"
	"testing"

	"springwright/design/course"
	"springwright/design/designtest"
)

// What is taken for bands is within the limits of bands, and is taken again as it is written.
func FuzzParseBands(f *testing.F) {
	for _, seed := range []string{"A:2.5/0.5, B:5/1,C:7.5/1.5", "A:nan/1", "A:1e309/1", "A:5/1,A:6/2", ":1/1", "F:2/1", "A:0x1p2/1"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		bands, err := course.ParseBands(text)
		if err != nil {
			return
		}
		var written []string
		for _, b := range bands.List {
			if b.Grade == "" || !(b.AngleRad >= course.LeastBandRad-1e-9 && b.AngleRad <= course.LargestBandRad+1e-9 && b.LengthMM >= course.LeastBandMM && b.LengthMM <= course.LargestBandMM) {
				t.Errorf("accepted: %+v", b)
			}
			written = append(written, fmt.Sprintf("%s:%.17g/%.17g", b.Grade, b.AngleRad/designtest.Degree(1), b.LengthMM))
		}
		again, err := course.ParseBands(strings.Join(written, ","))
		if err != nil || len(again.List) != len(bands.List) {
			t.Errorf("%q is refused as it is written again, %q: %v", text, written, err)
		}
	})
}
