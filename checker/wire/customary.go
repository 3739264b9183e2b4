package wire

// customaryConstants are the "cable constants" of the trade for 12 V copper
// cable, in watt-feet per volt. Common practice, no source: one list is in
// circulation, and 14 and 16 AWG do not fit the others.
var customaryConstants = map[string]float64{
	"16 AWG": 2200,
	"14 AWG": 3500,
	"12 AWG": 7500,
	"10 AWG": 11920,
	"8 AWG":  18960,
}

// CustomaryDrop returns the voltage drop by the trade's shortcut
//
//	volts = watts * feet / constant
//
// for a 12 V run, and false where the trade has no constant for the size. It
// is shown beside the solved network and never used for a judgment: for 8, 10
// and 12 AWG the constants assume a load spread evenly along the cable, so
// that a load at the far end drops twice as much; for 14 and 16 AWG they lie
// in between. Common practice, no source.
func CustomaryDrop(size string, watts, oneWayM float64) (volts float64, ok bool) {
	constant, ok := customaryConstants[size]
	if !ok {
		return 0, false
	}
	return watts * (oneWayM / metresPerFoot) / constant, true
}

// metresPerFoot is exact.
const metresPerFoot = 0.3048
