// Package classroom makes a course's exercise of one case: a variant of it for each student, all of them
// as hard to bend as the case itself and none so like another that a neighbour's sheet would pass, with
// the answers to the questions that go with it; and it marks what the students bent.
//
// A variant is the case with other measurements of the mouth, designed like any case. How hard one is is
// measured (Hardness), and so is how far two lie apart (Apart). Grades go by bands that the teacher sets
// (Band): the worst bend or straight decides.
package classroom
