package pdf

import (
	"bytes"
	"encoding/binary"
	"errors"
	"strings"
	"testing"

	"golang.org/x/image/font/gofont/goregular"
)

func TestFreezeModified(t *testing.T) {
	freeze := func(second byte) []byte {
		program := bytes.Clone(goregular.TTF)
		tables := int(binary.BigEndian.Uint16(program[4:]))
		for i := range tables {
			record := program[12+16*i:]
			if string(record[:4]) == "head" {
				program[binary.BigEndian.Uint32(record[8:])+35] = second // last byte of modified
			}
		}
		if err := freezeModified(program); err != nil {
			t.Fatal(err)
		}
		return program
	}
	a, b := freeze(1), freeze(2)
	if !bytes.Equal(a, b) {
		t.Error("fonts written at two times differ once frozen")
	}
	// OpenType specification: the sum over the whole file is this number.
	if got := checksum(a); got != 0xB1B0AFBA {
		t.Errorf("checksum of the font %#x, want 0xB1B0AFBA", got)
	}
}

func TestOtherLayoutsAreRefused(t *testing.T) {
	const object = "%d 0 obj\n<<>>\nendobj\n"
	for name, raw := range map[string]string{
		"empty":     "",
		"not a PDF": "hello",
		"no table":  "%PDF-1.7\nstartxref\n5\n%%EOF\n",
		"far table": "%PDF-1.7\n\nstartxref\n99999\n%%EOF\n",
		"order": "%PDF-1.7\n" + strings.Repeat(object, 3) +
			"xref\n0 4\n0000000000 65535 f \n0000000009 00000 n \n0000000009 00000 n \n0000000009 00000 n \ntrailer\n<<>>\nstartxref\n72\n%%EOF\n",
	} {
		if _, err := Finish([]byte(raw), Info{}); !errors.Is(err, ErrLayout) {
			t.Errorf("%s: error %v, want ErrLayout", name, err)
		}
	}
}

func TestText(t *testing.T) {
	// UTF-16 with byte-order mark; č is 010D, its low byte would be a line end.
	if got, want := string(text("č")), "<FEFF010D>"; got != want {
		t.Errorf("text(č) = %s, want %s", got, want)
	}
}

func TestChecksum(t *testing.T) {
	for data, want := range map[string]uint32{
		"":                                 0,
		"\x01\x02\x03\x04":                 0x01020304,
		"\x01\x02\x03\x04\x05":             0x06020304, // filled with zeros
		"\xFF\xFF\xFF\xFF\x00\x00\x00\x02": 1,          // modulo 2³²
	} {
		if got := checksum([]byte(data)); got != want {
			t.Errorf("checksum of %x is %#x, want %#x", data, got, want)
		}
	}
}
