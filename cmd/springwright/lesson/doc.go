// Package lesson makes the files of a class, and those of its marks. The program and the desk share it, so that
// both write the same bytes.
package lesson
