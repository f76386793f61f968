// Package course has what belongs to a class of students who bend springs, as data: a sheet for each with the answers
// to its questions, how hard it is, the bands that grades go by, and what is told of the springs that were handed in.
// Package optimize/classroom makes and marks them, export draws them, casefile writes and reads them.
package course
