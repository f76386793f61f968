package jig

import (
	"bytes"
	"encoding/binary"

	"gonum.org/v1/gonum/spatial/r3"
)

// STL is the plate as a binary STL file, in mm: a head of 80 bytes, the number of triangles, and of each its
// normal, its corners and two bytes of nothing. The head holds no date: the same plate is the same file.
func (j Jig) STL() []byte {
	var b bytes.Buffer
	head := make([]byte, 80)
	copy(head, "plate for a bent spring, mm; printed flat side down") // one that begins with "solid" would be taken for text
	b.Write(head)
	number := func(v any) { _ = binary.Write(&b, binary.LittleEndian, v) } // into memory
	number(uint32(len(j.Triangles)))
	vector := func(v r3.Vec) []float32 { return []float32{float32(v.X), float32(v.Y), float32(v.Z)} }
	for _, t := range j.Triangles {
		for i, v := range t { // the normal is that of the corners as they are written
			t[i] = r3.Vec{X: float64(float32(v.X)), Y: float64(float32(v.Y)), Z: float64(float32(v.Z))}
		}
		normal := r3.Cross(r3.Sub(t[1], t[0]), r3.Sub(t[2], t[0]))
		numbers := vector(r3.Unit(normal))
		for _, v := range t {
			numbers = append(numbers, vector(v)...)
		}
		number(numbers)
		number(uint16(0))
	}
	return b.Bytes()
}
