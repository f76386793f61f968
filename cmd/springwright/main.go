package main

import (
	"os"
)

func main() {
	os.Exit(runInterruptibly(os.Args[1:], os.Stdout, os.Stderr))
}
