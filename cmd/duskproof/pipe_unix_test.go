//go:build unix

package main

import "syscall"

// makePipe makes a named pipe that nobody writes to.
func makePipe(at string) error { return syscall.Mkfifo(at, 0o600) }
