package policy

import (
	"testing"

	"github.com/open-policy-agent/opa/v1/ast"
)

// TestBuiltinsDecided holds that builtins.txt decides on every built-in
// function of the policy engine, and on no other.
func TestBuiltinsDecided(t *testing.T) {
	allowed, err := decisions()
	if err != nil {
		t.Fatal(err)
	}
	offered := map[string]*ast.Builtin{}
	for _, builtin := range ast.CapabilitiesForThisVersion().Builtins {
		offered[builtin.Name] = builtin
		if _, decided := allowed[builtin.Name]; !decided {
			t.Errorf("the policy engine offers %s: allow or refuse it in builtins.txt", builtin.Name)
		}
	}
	for name, yes := range allowed {
		builtin := offered[name]
		switch {
		case builtin == nil:
			t.Errorf("builtins.txt decides on %s, which the policy engine no longer offers", name)
		case yes && builtin.IsNondeterministic():
			t.Errorf("%s gives different answers at different times, and is allowed", name)
		case yes && builtin.IsDeprecated():
			t.Errorf("%s is deprecated, and is allowed", name)
		}
	}
}

// TestNoNetwork holds that no host may be reached: an absent list would mean
// every host.
func TestNoNetwork(t *testing.T) {
	if hosts := capabilities().AllowNet; hosts == nil || len(hosts) != 0 {
		t.Errorf("allowed hosts are %v; want an empty list that is present", hosts)
	}
}
