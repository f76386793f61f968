package main

import (
	"os"
)

func main() {
	args := os.Args[1:]
	clicked := len(args) == 0 && doubleClicked(streams{os.Stdin, os.Stdout, os.Stderr})
	if clicked {
		args = []string{"desk", "--own-folder"}
	}
	code := runInterruptibly(args, os.Stdout, os.Stderr)
	if clicked && code != exitDone && code != exitInterrupted {
		holdWindow()
	}
	os.Exit(code)
}
