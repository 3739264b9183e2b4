// Command duskproof proofs outdoor low-voltage lighting plans.
package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"duskproof/checker"
)

func main() {
	c, err := checker.New(checker.Options{Today: "2026-11-25"})
	if err != nil {
		fmt.Println(err)
		os.Exit(2)
	}
	for _, name := range os.Args[1:] {
		data, err := os.ReadFile(name)
		if err != nil {
			fmt.Println(err)
			os.Exit(2)
		}
		r, err := c.Check(context.Background(), checker.Input{Name: name, Bytes: data, FS: os.DirFS(filepath.Dir(name))})
		for _, p := range r.Problems {
			fmt.Printf("%s:%d:%d: %s: %s\n", name, p.Line, p.Column, p.Rule, p.Message)
		}
		for _, f := range r.Findings {
			fmt.Printf("%s:%d:%d: %s %s [%s|%s]: %s (%s; %s)\n", name, f.Line, f.Column, f.Severity, f.Rule, f.Element, f.Case, f.Message, f.Basis, f.Source)
		}
		fmt.Println(r.Verdict, err)
	}
}
