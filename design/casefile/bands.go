package casefile

import (
	"springwright/design/course"
	"springwright/design/quantity"
)

// longestGrade is that of a grade's name: it stands in a narrow column.
const longestGrade = 12

// ReadBands reads the grades of a class from a TOML file: a table for each, the best first, with angle_deg and
// length_mm, what a bend and a straight may be off by, and, where wanted, meets_target = true; below at the top
// names the grade beyond all. The error is a fault.List.
func ReadBands(name string, data []byte) (course.Bands, error) {
	r, root := open(name, data)
	bands := course.Bands{Below: course.UsualBands().Below}
	if root.has("below") {
		bands.Below = root.text("below", longestGrade)
	}
	for _, e := range root.unknown() {
		if len([]rune(e.key)) > longestGrade {
			r.report(e.at, shorten(e.key), "is too long for a grade", "write a letter or a number")
		}
		t := root.table(e.key)
		angle := t.needed("angle_deg", span{unit: quantity.Degree, low: smallestReadingSD, high: 90}, "what a bend may be off by")
		length := t.needed("length_mm", span{unit: quantity.Millimetre, low: smallestReadingSD, high: 20}, "what a straight may be off by")
		met := t.truth("meets_target")
		t.close()
		bands.List = append(bands.List, course.Band{Grade: e.key, AngleRad: angle, LengthMM: length, Met: met})
	}
	root.close()
	if len(bands.List) == 0 && len(r.faults) == 0 {
		r.report(place{1, 1}, "", "holds no grade", "write a table for each, such as [A] with angle_deg = 2.5 and length_mm = 0.5 below it")
	}
	if err := r.faults.Err(); err != nil {
		return course.Bands{}, err
	}
	if err := bands.Check(); err != nil {
		r.report(place{1, 1}, "", err.Error(), "put the grades in order, the best first")
		return course.Bands{}, r.faults.Err()
	}
	return bands, nil
}
