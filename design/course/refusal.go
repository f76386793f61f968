package course

// Refusal is why what was handed in is nobody's mark.
type Refusal int

// The reasons.
const (
	OtherClass Refusal = iota // a card of another class
	NoOwner                   // nothing tells whose it is
	Twice                     // the student has a mark already
	NoStudent                 // a number that nobody has
	BadNumbers                // of a table: its own text is told with it
)

// Error is the reason in words.
func (r Refusal) Error() string {
	return [...]string{
		"the card is of another class",
		"nothing tells whose it is: the card has no strip that can be read, and the file's name no code of this class",
		"a picture of the same student was read before: keep the one that holds",
		"the card's number is that of no student of this class",
		"its numbers in the table cannot be used",
	}[r]
}
