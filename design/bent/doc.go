// Package bent has what is told of a spring that was bent and measured, as data: the spring most likely
// bent, what it does and those about it do, which bend to correct, and how to go on with one that is half
// bent. Package optimize/asbent works it out, export draws it, export/words says it, casefile writes it.
package bent
