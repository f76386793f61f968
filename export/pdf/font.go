package pdf

import (
	"encoding/binary"
	"fmt"
)

// freezeFont takes the date of writing out of an embedded TrueType program.
func freezeFont(body []byte) ([]byte, error) {
	program, err := inflated(body)
	if err != nil {
		return nil, fmt.Errorf("font program: %w", err)
	}
	if err := freezeModified(program); err != nil {
		return nil, err
	}
	return deflated(program, fmt.Sprintf("/Length1 %d", len(program)))
}

// freezeModified copies head.created over head.modified, in place, and puts both
// checksums right (OpenType specification, "Calculating checksums" and the head table).
func freezeModified(program []byte) error {
	const (
		trueType     = 0x00010000
		headerLength = 12
		recordLength = 16
		headLength   = 54
		adjustmentAt = 8
		createdAt    = 20
		modifiedAt   = 28
	)
	word := binary.BigEndian
	if len(program) < headerLength || word.Uint32(program) != trueType {
		return fmt.Errorf("%w: a font program is not TrueType", ErrLayout)
	}
	tables := int(word.Uint16(program[4:]))
	if len(program) < headerLength+tables*recordLength {
		return fmt.Errorf("%w: a font program is cut short", ErrLayout)
	}
	for i := range tables {
		record := program[headerLength+i*recordLength:][:recordLength]
		if string(record[:4]) != "head" {
			continue
		}
		offset, length := int64(word.Uint32(record[8:])), int64(word.Uint32(record[12:]))
		if length < headLength || offset+length > int64(len(program)) {
			return fmt.Errorf("%w: a font's head table is %d bytes long", ErrLayout, length)
		}
		head := program[offset : offset+length]
		copy(head[modifiedAt:modifiedAt+8], head[createdAt:createdAt+8])
		word.PutUint32(head[adjustmentAt:], 0)
		word.PutUint32(record[4:], checksum(head))
		word.PutUint32(head[adjustmentAt:], 0xB1B0AFBA-checksum(program))
		return nil
	}
	return fmt.Errorf("%w: a font has no head table", ErrLayout)
}

// checksum adds up big-endian words; a last short one is filled with zeros.
func checksum(b []byte) uint32 {
	var sum uint32
	for ; len(b) >= 4; b = b[4:] {
		sum += binary.BigEndian.Uint32(b)
	}
	var last [4]byte
	copy(last[:], b)
	return sum + binary.BigEndian.Uint32(last[:])
}
