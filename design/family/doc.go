// Package family builds the wire of each kind of spring: a path, and the numbers of it that a search
// may choose (spring.Pattern). PatternFor chooses the kind that a case asks for.
package family
