package main

import (
	"fmt"
	"strings"

	"springwright/design"
	"springwright/design/spring"
	"springwright/design/tooth"
)

// teethFor are the teeth that a spring file is taken for: those that it names, or, where it
// names none, those given on the command line, which may be none. Others than those in the
// file are refused: a spring for another side pushes and turns the wrong way.
func teethFor(file string, s spring.Spring, given tooth.Pair) (tooth.Pair, error) {
	switch {
	case s.Teeth == (tooth.Pair{}):
		return given, nil
	case given == (tooth.Pair{}) || given == s.Teeth:
		return s.Teeth, nil
	}
	return tooth.Pair{}, otherTeeth(&failure{
		code: exitFile,
		text: fmt.Sprintf("%s is made for %v, not for %v", file, s.Teeth, given),
	}, s, given)
}

// otherTeeth says where the spring for the teeth that are wanted comes from.
func otherTeeth(f *failure, s spring.Spring, wanted tooth.Pair) error {
	if wanted == s.Teeth.Mirrored() {
		return f.hint("give the spring made for %v; \"sheet --twins\" draws the mirrored one for the other side behind this one", wanted)
	}
	return f.hint("give the spring made for %v", wanted)
}

// fitsCase refuses a spring that is none for the case.
func fitsCase(file string, s spring.Spring, wanted design.Case) error {
	if s.Teeth != (tooth.Pair{}) && s.Teeth != wanted.Teeth {
		_, err := teethFor(file, s, wanted.Teeth)
		return err
	}
	misfits := wanted.Misfits(s)
	if len(misfits) == 0 {
		return nil
	}
	f := &failure{
		code: exitFile,
		text: fmt.Sprintf("%s is no spring for this case: its %s", file, strings.Join(misfits, "; ")),
	}
	if len(wanted.Misfits(s.Mirrored())) == 0 {
		return f.hint("it fits the same case on the other side of the mouth: give the spring made for %v", wanted.Teeth)
	}
	return f.hint("give the case that the spring was designed for")
}
