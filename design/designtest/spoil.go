package designtest

import (
	"math/rand/v2"
	"slices"
)

// Spoil changes a text in up to four places, as slips of hands and broken files do: a byte is another, some are left out,
// come twice or stand elsewhere.
func Spoil(r *rand.Rand, text []byte) []byte {
	out := slices.Clone(text)
	for range r.IntN(5) {
		if len(out) == 0 {
			return out
		}
		at := r.IntN(len(out))
		end := at + 1 + r.IntN(min(40, len(out)-at))
		part := slices.Clone(out[at:end])
		switch r.IntN(5) {
		case 0:
			out[at] = byte(r.Uint32())
		case 1:
			out[at] = "\x00\n\r\t\"'=.,;:/-+0eE{}[]#~\x1b\x7f\xff"[r.IntN(26)]
		case 2:
			out = slices.Delete(out, at, end)
		case 3:
			out = slices.Insert(out, at, part...)
		case 4:
			out = slices.Insert(slices.Delete(out, at, end), r.IntN(len(out)-len(part)+1), part...)
		}
	}
	return out
}
