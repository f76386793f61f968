package main

import (
	"bufio"
	"fmt"
	"os"
	"syscall"
	"unsafe"
)

// doubleClicked tells whether the program was started by a double click: it then has a console of
// its own, with no shell in it.
func doubleClicked(streams) bool {
	list := syscall.NewLazyDLL("kernel32.dll").NewProc("GetConsoleProcessList")
	if list.Find() != nil {
		return false
	}
	var ids [2]uint32
	n, _, _ := list.Call(uintptr(unsafe.Pointer(&ids[0])), uintptr(len(ids)))
	return n == 1
}

// holdWindow keeps the console open, which would take what it says with it.
func holdWindow() {
	fmt.Fprintln(os.Stderr, "Press Enter to close this window.")
	_, _ = bufio.NewReader(os.Stdin).ReadString('\n')
}
