package casefile

import (
	"springwright/design/quantity"
)

// usualBelow is the grade beyond all bands where a file names none.
const usualBelow = "F"

// longestGrade is that of a grade's name: it stands in a narrow column.
const longestGrade = 12

// ReadBands reads the grades of a class from a TOML file: a table for each, the best first, with angle_deg and
// length_mm, what a bend and a straight may be off by, and, where wanted, meets_target = true; below at the top
// names the grade beyond all. Ranges are not looked at here: they are the marker's. The error is a fault.List.
func ReadBands(name string, data []byte) (bands []ClassBand, below string, err error) {
	r, root := open(name, data)
	below = usualBelow
	if root.has("below") {
		below = root.text("below", longestGrade)
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
		bands = append(bands, ClassBand{e.key, angle, length, met})
	}
	root.close()
	if len(bands) == 0 && len(r.faults) == 0 {
		r.report(place{1, 1}, "", "holds no grade", "write a table for each, such as [A] with angle_deg = 2.5 and length_mm = 0.5 below it")
	}
	if err := r.faults.Err(); err != nil {
		return nil, "", err
	}
	return bands, below, nil
}
