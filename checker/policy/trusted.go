package policy

import (
	"slices"

	"github.com/open-policy-agent/opa/v1/ast"
)

// checkingStages are the stages of the compiler that find mistakes and change
// nothing, or change only what rules here do not use: print, metadata and with.
// The rules that come with the program are compiled with all of them by a test,
// which also holds that what comes out is the same without them; they are more
// than half of the work.
var checkingStages = []ast.StageID{
	ast.StageCheckUnusedImports, ast.StageCheckKeywordOverrides, ast.StageCheckDuplicateImports,
	ast.StageCheckVoidCalls, ast.StageRewritePrintCalls, ast.StageParseMetadataBlocks,
	ast.StageSetAnnotationSet, ast.StageRewriteRegoMetadataCalls, ast.StageSetGraph,
	ast.StageRewriteWithValues, ast.StageCheckRuleConflicts, ast.StageCheckUndefinedFuncs,
	ast.StageCheckSafetyRuleHeads, ast.StageCheckSafetyRuleBodies, ast.StageRewriteTestRulesForTracing,
	ast.StageCheckRecursion, ast.StageCheckTypes, ast.StageCheckUnsafeBuiltins,
	ast.StageCheckDeprecatedBuiltins, ast.StageBuildRequiredCapabilities,
}

// trusted reports whether there is nothing to check: without a schema, and with
// no file that comes from outside the program.
func (c *Catalogue) trusted(options Options) bool {
	foreign := func(r Rule) bool { return r.House || r.source.Name != builtIn }
	helper := func(name string) bool { return !c.library[name] }
	return options.Facts == nil && !slices.ContainsFunc(c.Rules, foreign) && !slices.ContainsFunc(c.helpers, helper)
}

// compilerFor returns a compiler for the rules of the catalogue.
func (c *Catalogue) compilerFor(options Options) *ast.Compiler {
	if c.trusted(options) {
		return newCompiler(nil).WithSkipStages(checkingStages...)
	}
	return newCompiler(options.Facts)
}
