// Package carried holds the list of findings that older plans carry along. A
// repository that begins to check plans which were drawn long ago writes down
// what is found in them, and from then on only new findings hold.
//
//	list, problems := carried.Parse("carried.json", data)
//	entries := list.Of("clients/tern.lighting.json")
//
// The list may shrink and may not grow ([List.Beyond]). Each entry has a reason
// or a last date; a danger always has a reason. An entry whose finding has gone
// is stale, and one whose finding has become graver no longer covers it: package
// checker says so for each plan that it checks.
package carried
