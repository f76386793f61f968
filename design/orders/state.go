package orders

// State is what became of an order.
type State int

// The states.
const (
	Open     State = iota // not made yet
	Made                  // meets its target
	Missed                // no spring meets its target
	Faulty                // cannot be read
	InTheWay              // could not be written, or not be made for a fault of the program
)

// String is the word of a state in files.
func (s State) String() string {
	return [...]string{"open", "made", "target missed", "faulty", "not written"}[s]
}

// ParseState reads the word of a state.
func ParseState(word string) (State, bool) {
	for s := Open; s <= InTheWay; s++ {
		if s.String() == word {
			return s, true
		}
	}
	return Open, false
}
