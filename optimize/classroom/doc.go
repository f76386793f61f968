// Package classroom makes a course's exercise of one case: a variant of it for each student, all of them about as hard
// to bend and none so like another that a neighbour's sheet would pass, with the answers to the questions that go with
// it; and it marks what the students bent. What it makes is that of package course.
//
// A variant is the case with other measurements of the mouth, designed like any case.
package classroom
