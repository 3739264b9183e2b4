// Package machine runs rules that were compiled beforehand. The policy engine
// can write down what it would do for a query as a plan of simple statements
// (its intermediate representation); [Assemble] turns such a plan into a
// [Program] that fits into a small file, and [Program.Judge] runs one of its
// rules over facts. It starts at once, since nothing is parsed or compiled.
//
// The machine answers only where all is regular. Whatever the engine would
// report as a mistake, such as a built-in function that refuses its argument,
// ends the machine's run with an error, and the engine itself is asked.
package machine
