package machine

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
)

// randomNumber makes a number as facts, rules and earlier steps have them.
func randomNumber(random *rand.Rand) Value {
	var text string
	switch random.IntN(6) {
	case 0:
		text = strconv.Itoa(random.IntN(2000) - 1000)
	case 1:
		text = strconv.FormatFloat((random.Float64()-0.5)*math.Pow(10, float64(random.IntN(14)-6)), 'g', factDigits, 64)
	case 2:
		text = strconv.FormatFloat(float64(random.IntN(4000)-2000)/1000, 'f', random.IntN(4), 64)
	case 3:
		text = strconv.FormatInt(random.Int64()>>random.IntN(60), 10)
	case 4:
		text = strconv.FormatFloat(random.Float64(), 'g', -1, 64)
	default:
		text = []string{"0", "-0", "1.0", "0.5", "-0.5", "2147483647", "2147483648", "-2147483649", "1e400", "1e-400", "0.1"}[random.IntN(11)]
	}
	v, err := numeral(text)
	if err != nil {
		panic(err)
	}
	return v
}

// TestArithmetic holds that numbers are computed with as the policy engine does, to
// its last digit, and step after step.
func TestArithmetic(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	two := []string{"plus", "minus", "mul", "div", "rem"}
	one := []string{"abs", "floor", "round"}
	for range 60000 {
		v := randomNumber(random)
		for range 3 {
			name, arguments := one[random.IntN(len(one))], []Value{v}
			if random.IntN(3) > 0 {
				name, arguments = two[random.IntN(len(two))], []Value{v, randomNumber(random)}
			}
			got, err := natives[name](arguments)
			want, refused := byEngine(name, arguments)
			if (err != nil) != (refused != nil) {
				t.Fatalf("%s of %v: got %v, %v, want %v, %v", name, arguments, got, err, want, refused)
			}
			if err != nil {
				break
			}
			if got.Digits() != want.Digits() || got.Float() != want.Float() || Compare(got, want) != 0 || string(appendKey(nil, got)) != string(appendKey(nil, want)) {
				t.Fatalf("%s of %v: got %s, %v, want %s, %v", name, arguments, got.Digits(), got.Float(), want.Digits(), want.Float())
			}
			v = got
		}
	}
}

// TestSum holds that sums are those of the policy engine.
func TestSum(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	for range 5000 {
		list := make([]Value, random.IntN(6))
		for i := range list {
			list[i] = randomNumber(random)
			if random.IntN(2) == 0 {
				list[i], _ = plus.call([]Value{list[i], randomNumber(random)})
			}
		}
		got, err := sum([]Value{ArrayOf(list)})
		want, refused := byEngine("sum", []Value{ArrayOf(list)})
		if err != nil || refused != nil || got.Digits() != want.Digits() {
			t.Fatalf("sum of %v: got %v, %v, want %v, %v", ArrayOf(list), got, err, want, refused)
		}
	}
}

// TestNearHalf holds that a computed number has the float that its digits have.
func TestNearHalf(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	for range 200000 {
		a, b := randomNumber(random), randomNumber(random)
		v, err := mul.call([]Value{a, b})
		if err != nil {
			t.Fatal(err)
		}
		want, err := strconv.ParseFloat(v.Digits(), 64)
		if v.group != nil && (err != nil || v.Float() != want) {
			t.Fatalf("%v times %v is %s, whose float is %v, not %v", a, b, v.Digits(), want, v.Float())
		}
	}
}
