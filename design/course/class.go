package course

import (
	"math"

	"springwright/design"
	"springwright/design/photo"
	"springwright/design/solve"
	"springwright/design/spring"
)

// MostStudents is how many students a class may have: more than sit in a room, and no more than the strip of a card can
// tell (choice).
const MostStudents = 200

// Class is what a course hands out.
type Class struct {
	Case     design.Case // the teacher's
	Hardness Hardness    // the usual one of its variants, which all students' are held against
	Seed     uint64
	Tag      uint16 // of 12 bits; tells cards of one class from those of another
	Bands    Bands
	Students []Student
	Tried    Tried
	// LeastApart is the smallest distance between two students' sheets; zero for one student.
	LeastApart Apart
}

// Student is one student's variant of the case.
type Student struct {
	Number     int    // from 1
	CaseText   []byte // the case file
	Case       design.Case
	Spring     spring.Spring
	Evaluation solve.Evaluation
	Hardness   Hardness
	Answer     Answer
}

// Code is the case code on the student's sheet; never a name.
func (s Student) Code() string { return s.Case.Code }

// Owner is what the student's card says.
func (c Class) Owner(s Student) photo.Owner {
	return photo.Owner{Class: c.Tag, Student: uint8(s.Number)}
}

// Tried says what became of the variants that were drawn.
type Tried struct {
	Drawn, Unmet, OtherKind, OtherHardness, Alike int
}

// Hardness is how hard a spring is to bend.
type Hardness struct {
	Bends           int     // and twists
	Share           float64 // of springs bent by a student's hand that meet the target
	LargestAngleRad float64 // of a bend or twist
	// LeastToleranceRad is by how much the most exacting bend alone may be off before the target is missed.
	LeastToleranceRad float64
}

// What still counts as equally hard: so much beside the usual (choices). The share of 400 springs is good to 2 in 100,
// one standard deviation.
const (
	shareApart     = 0.15
	angleApartRad  = 20 * degree
	toleranceApart = 2.0 // times the usual one, or that part of it
)

// AsHardAs tells whether two springs are equally hard.
func (h Hardness) AsHardAs(o Hardness) bool {
	return h.Bends == o.Bends && math.Abs(h.Share-o.Share) <= shareApart &&
		math.Abs(h.LargestAngleRad-o.LargestAngleRad) <= angleApartRad &&
		h.LeastToleranceRad >= o.LeastToleranceRad/toleranceApart && h.LeastToleranceRad <= o.LeastToleranceRad*toleranceApart
}
