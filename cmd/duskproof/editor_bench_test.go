package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// BenchmarkEditor measures the time from an edit to its findings, from outside
// the process, on the plan that speed is measured on: while somebody types, and
// when a search for fixes is under way. It reports the median.
func BenchmarkEditor(b *testing.B) {
	for _, c := range []struct {
		name string
		rest time.Duration // before each edit
	}{{"typing", 0}, {"proving", 400 * time.Millisecond}} {
		b.Run(c.name, func(b *testing.B) {
			folder := b.TempDir()
			if err := copyInto(folder, "tern-cottage"); err != nil {
				b.Fatal(err)
			}
			path := filepath.Join(folder, "tern-cottage", "issued.lighting.json")
			text := readText(b, path)
			const title = `"title": "Tern Cottage`
			if strings.Count(text, title) != 1 {
				b.Fatal("the plan has another title")
			}
			client := startEditor(b, folder)
			client.begin(folder)
			client.open(path, 1, text)
			client.findings(path, 1)
			var took []time.Duration
			version := 1
			for b.Loop() {
				version++
				edited := strings.Replace(text, title, fmt.Sprint(title, " ", version), 1)
				time.Sleep(c.rest)
				began := time.Now()
				client.change(path, version, edited)
				client.findings(path, version)
				took = append(took, time.Since(began))
			}
			client.end()
			slices.Sort(took)
			b.ReportMetric(float64(took[len(took)/2].Microseconds())/1000, "ms-median")
			b.ReportMetric(float64(took[len(took)*9/10].Microseconds())/1000, "ms-ninth-decile")
		})
	}
}
