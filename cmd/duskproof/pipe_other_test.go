//go:build !unix

package main

import "errors"

// makePipe says that this system has no pipes in folders.
func makePipe(string) error { return errors.New("no named pipes") }
