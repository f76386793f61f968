package pdf

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
)

// file is a file being written: objects as they come, small ones packed together in a
// compressed object (ISO 32000-1, 7.5.7), at the end the cross-reference stream that finds them
// all (7.5.8). A structure tree has some two thousand objects, which would more than double the
// file.
type file struct {
	out    bytes.Buffer
	places []place // by number; that of 0 is free
	packed [][]byte
	names  []int // the numbers of those packed
}

// place is where an object is: at an offset, or as so many-th in the packed ones.
type place struct {
	packed bool
	at     int
}

// newFile starts a file whose first objects are numbered up to given.
func newFile(header []byte, given int) *file {
	f := &file{places: make([]place, given+1)}
	f.out.Write(header)
	return f
}

// next is the number of the next object.
func (f *file) next() int { return len(f.places) }

func (f *file) write(number int, body []byte) {
	for len(f.places) <= number {
		f.places = append(f.places, place{})
	}
	f.places[number] = place{at: f.out.Len()}
	fmt.Fprintf(&f.out, "%d 0 obj\n%s\nendobj\n", number, body)
}

// pack adds an object that is no stream.
func (f *file) pack(body []byte) {
	f.names = append(f.names, f.next())
	f.places = append(f.places, place{packed: true, at: len(f.packed)})
	f.packed = append(f.packed, body)
}

// close returns the whole file. Its ID is taken from its contents.
func (f *file) close() ([]byte, error) {
	container := 0
	if len(f.packed) > 0 {
		var heads, bodies bytes.Buffer
		for i, body := range f.packed {
			fmt.Fprintf(&heads, "%d %d ", f.names[i], bodies.Len())
			bodies.Write(body)
			bodies.WriteByte('\n')
		}
		entries := fmt.Sprintf("/Type/ObjStm/N %d/First %d", len(f.packed), heads.Len())
		body, err := deflated(append(heads.Bytes(), bodies.Bytes()...), entries)
		if err != nil {
			return nil, err
		}
		container = f.next()
		f.write(container, body)
	}
	sum := sha256.Sum256(f.out.Bytes())
	start, number := f.out.Len(), f.next()
	f.places = append(f.places, place{at: start})
	const free, plain, packed = 0, 1, 2 // kinds of entries: a byte, then four, then two
	var table []byte
	for i, p := range f.places {
		kind, second, third := byte(plain), p.at, 0
		switch {
		case i == 0:
			kind, third = free, 65535
		case p.packed:
			kind, second, third = packed, container, p.at
		}
		table = append(table, kind)
		table = binary.BigEndian.AppendUint32(table, uint32(second))
		table = binary.BigEndian.AppendUint16(table, uint16(third))
	}
	body, err := deflated(table, fmt.Sprintf("/Type/XRef/W[1 4 2]/Size %d/Root %d 0 R/Info %d 0 R/ID[<%x><%x>]",
		len(f.places), catalogueObject, infoObject, sum[:16], sum[:16]))
	if err != nil {
		return nil, err
	}
	fmt.Fprintf(&f.out, "%d 0 obj\n%s\nendobj\nstartxref\n%d\n%%%%EOF\n", number, body, start)
	return f.out.Bytes(), nil
}
