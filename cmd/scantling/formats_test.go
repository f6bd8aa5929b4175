package main

import (
	"encoding/json"
	"encoding/xml"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/finding"
)

// Every format tells the same findings of the same run, in a form that its readers take, and carries the caution.
func TestEveryFormatTellsTheSameFindings(t *testing.T) {
	told, status := check(t, demo("quillmere-faulty.json"))
	counts := map[string]int{}
	for _, f := range told.Findings {
		counts[f.Rule]++
	}
	for format, rules := range map[string]func(*testing.T, string) map[string]int{
		"json": rulesOfJSON, "json-lines": rulesOfLines, "sarif": rulesOfSARIF, "junit": rulesOfJUnit, "lines": rulesInBrackets,
	} {
		t.Run(format, func(t *testing.T) {
			out, s := command(t, "check", "--format", format, demo("quillmere-faulty.json"))
			assert.Equal(t, status, s, "the status does not depend on the format")
			assert.Equal(t, counts, rules(t, out))
			assert.Contains(t, strings.Join(strings.Fields(out), " "), finding.Caution)
		})
	}
}

func TestTextIsForEightyColumnsAndNeedsNoColour(t *testing.T) {
	for _, name := range []string{"quillmere.json", "quillmere-faulty.json", "larkrun-porch.json"} {
		out, _ := command(t, "check", demo(name))
		for _, line := range strings.Split(out, "\n") {
			assert.LessOrEqual(t, len([]rune(line)), 80, line)
		}
		assert.NotContains(t, out, "\x1b")
		assert.Contains(t, strings.Join(strings.Fields(out), " "), finding.Caution)
	}
}

func rulesOfJSON(t *testing.T, out string) map[string]int {
	told := &result{}
	require.NoError(t, json.Unmarshal([]byte(out), told))
	rules := map[string]int{}
	for _, f := range told.Findings {
		rules[f.Rule]++
	}
	return rules
}

// rulesOfLines reads one object a line; lines without a rule say other things of the run.
func rulesOfLines(t *testing.T, out string) map[string]int {
	rules := map[string]int{}
	for _, line := range strings.Split(strings.TrimSpace(out), "\n") {
		var f struct{ Rule, Outcome string }
		require.NoError(t, json.Unmarshal([]byte(line), &f), line)
		if f.Outcome != "" {
			rules[f.Rule]++
		}
	}
	return rules
}

func rulesOfSARIF(t *testing.T, out string) map[string]int {
	var log struct {
		Version string
		Runs    []struct {
			Results []struct{ RuleID string }
		}
	}
	require.NoError(t, json.Unmarshal([]byte(out), &log))
	assert.Equal(t, "2.1.0", log.Version)
	rules := map[string]int{}
	for _, r := range log.Runs {
		for _, f := range r.Results {
			rules[f.RuleID]++
		}
	}
	return rules
}

// rulesOfJUnit counts the cases that are findings: their class is the rule.
func rulesOfJUnit(t *testing.T, out string) map[string]int {
	var suites struct {
		Suites []struct {
			Cases []struct {
				Class string `xml:"classname,attr"`
			} `xml:"testcase"`
		} `xml:"testsuite"`
	}
	require.NoError(t, xml.Unmarshal([]byte(out), &suites))
	rules := map[string]int{}
	for _, s := range suites.Suites {
		for _, c := range s.Cases {
			if c.Class != "scantling" { // the run itself
				rules[c.Class]++
			}
		}
	}
	return rules
}

// rulesInBrackets reads lines that end with the rule in brackets.
func rulesInBrackets(t *testing.T, out string) map[string]int {
	rules := map[string]int{}
	for _, line := range strings.Split(strings.TrimSpace(out), "\n") {
		if i := strings.LastIndexByte(line, '['); i >= 0 && strings.HasSuffix(line, "]") {
			rules[line[i+1:len(line)-1]]++
		}
	}
	return rules
}
