package classroom

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"springwright/design/casefile"
)

// varied is a measurement that differs from student to student: by as many steps as are drawn, evenly from
// least to most. Only what the case writes as a plain number of its key's unit is varied. Sizes of mouths
// differ by more (fold of the cheek 7.0 ± 3.1 mm in children, 10.1 ± 2.6 mm over 50, scite.ai); these are what
// still leaves most cases with a spring as hard as the first (choices).
type varied struct {
	keys        []string // all by the same number
	step        float64  // mm
	least, most int      // of steps
	keepMM      float64  // the sign of the measurement stays, and its size at least so large
}

func allVaried() []varied {
	return []varied{
		{keys: []string{"now.along_mm", "goal.along_mm"}, step: 0.5, least: -4, most: 4, keepMM: 4},
		{keys: []string{"now.occlusal_mm", "now.apical_mm"}, step: 0.25, least: -2, most: 2, keepMM: 0.75},
		{keys: []string{"limits.fold_depth_mm"}, step: 0.5, least: -5, most: 2, keepMM: 5},
		{keys: []string{"limits.loop_height_mm"}, step: 0.5, least: -3, most: 2, keepMM: 4},
		{keys: []string{"limits.loop_width_mm"}, step: 0.5, least: -6, most: 2, keepMM: 5},
		{keys: []string{"limits.room_mesial_mm"}, step: 0.5, least: -3, most: 2, keepMM: 2},
		{keys: []string{"limits.room_distal_mm"}, step: 0.5, least: -3, most: 2, keepMM: 2},
	}
}

// variantStarts are the starting points of a variant's search, where the case does not say: a third of the usual ones
// find a spring that meets the target as often, and in half the time (choice).
const variantStarts = 4

// variant is the text of a case with other measurements, drawn by a number: the same number always draws the
// same. The error is that of casefile.Edit.
func variant(text []byte, code string, seed uint64, number int) ([]byte, error) {
	draw := rand.New(rand.NewPCG(seed, uint64(number)))
	entries := []casefile.Entry{{Key: "case", Value: casefile.Quoted(code)}}
	written := casefile.Values(text)
	for _, v := range allVaried() {
		by := v.step * float64(v.least+draw.IntN(v.most-v.least+1)) // drawn for keys that are not there as well: a new key changes no other
		for _, key := range v.keys {
			i := slices.IndexFunc(written, func(e casefile.Entry) bool { return e.Key == key })
			if i < 0 {
				continue
			}
			was, err := strconv.ParseFloat(written[i].Value, 64)
			if err != nil || math.Abs(was) < v.keepMM {
				continue
			}
			now := math.Copysign(max(math.Abs(was)+by, v.keepMM), was)
			entries = append(entries, casefile.Entry{Key: key, Value: number64(now)})
		}
	}
	entries = append(entries, casefile.Entry{Key: "search.seed", Value: strconv.Itoa(1 + draw.IntN(1<<20))})
	if !slices.ContainsFunc(written, func(e casefile.Entry) bool { return e.Key == "search.starts" }) {
		entries = append(entries, casefile.Entry{Key: "search.starts", Value: strconv.Itoa(variantStarts)})
	}
	return casefile.Edit(text, entries...)
}

// number64 is a number as TOML knows it, without the dust of binary fractions.
func number64(v float64) string {
	text := strconv.FormatFloat(math.Round(v*1e4)/1e4, 'f', -1, 64)
	if !strings.Contains(text, ".") {
		text += ".0"
	}
	return text
}

// longestBase leaves a case code room for a student's number (32 characters: casefile).
const longestBase = 28

// codeOf is the case code of a student.
func codeOf(base string, number int) string {
	if runes := []rune(base); len(runes) > longestBase {
		base = string(runes[:longestBase])
	}
	if base == "" {
		base = "course"
	}
	return fmt.Sprintf("%s-%02d", base, number)
}
