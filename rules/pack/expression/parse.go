package expression

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"sync"
	"unicode/utf8"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/conf"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser"

	"example.com/scantling/rules/pack/problem"
)

// The bounds of an expression.
const (
	maxSource = 4096 // bytes
	maxDepth  = 64   // brackets inside each other
	maxNodes  = 5_000
)

// parse turns a source into a tree. The bounds are held before the parser sees the text, since it recurses.
func parse(src *Source) (ast.Node, *problem.Problem) {
	fault := func(at int, message, fix string) *problem.Problem {
		return &problem.Problem{Place: src.Character(at), Message: message, Fix: fix, Expression: src.Text, Caret: at}
	}
	switch {
	case strings.TrimSpace(src.Text) == "":
		return nil, fault(0, "the expression is empty", "write a condition, such as bearing >= mm(90)")
	case len(src.Text) > maxSource:
		p := fault(0, fmt.Sprintf("the expression is longer than %d bytes", maxSource), "split it with define")
		p.Expression = ""
		return nil, p
	case !utf8.ValidString(src.Text):
		p := fault(0, "the expression is not UTF-8 text", "save the file as UTF-8")
		p.Expression = ""
		return nil, p
	}
	if at := tooDeep(src.Text); at >= 0 {
		return nil, fault(at, fmt.Sprintf("the expression is more than %d brackets deep here", maxDepth), "split it with define")
	}
	config := configs.Get().(*conf.Config)
	defer configs.Put(config)
	tree, err := parser.ParseWithConfig(src.Text, config)
	var wrong *file.Error
	switch {
	case errors.As(err, &wrong):
		message, fix := plainWords(wrong.Message)
		return nil, fault(wrong.From, message, fix)
	case err != nil:
		return nil, fault(0, err.Error(), "")
	}
	return tree.Node, nil
}

// configs are those of the parser, which take longer to make than most expressions to read.
var configs = sync.Pool{New: func() any {
	config := conf.CreateNew()
	config.MaxNodes = maxNodes
	for name := range config.Builtins {
		if !builtins[name] {
			config.Disabled[name] = true
		}
	}
	return config
}}

// builtins are the functions of expr's own that rules may call; all others are read as names that are not known.
var builtins = map[string]bool{
	"all": true, "any": true, "none": true, "one": true, "count": true, "len": true, "filter": true, "map": true,
	"sum": true, "min": true, "max": true, "abs": true, "floor": true, "ceil": true, "round": true,
}

var unexpected = regexp.MustCompile(`^unexpected token (\w+)(?:\("(.*)"\))?$`)

// plainWords says an error of the parser in words that need no knowledge of parsers, and what would be right.
func plainWords(message string) (wrong, fix string) {
	m := unexpected.FindStringSubmatch(message)
	switch {
	case m == nil:
		return message, ""
	case m[1] == "EOF":
		return "the expression ends too soon", "close brackets and quotes that are open, and end with a value"
	case m[2] == "=":
		return "= does not compare", "write =="
	case m[2] == "let":
		return "let is not read here", "name it under define"
	}
	return fmt.Sprintf("%q does not belong here", m[2]), "look for an operator, a bracket or a quote that is missing before it"
}

// tooDeep is the place, in characters, where an expression has more brackets open than is allowed, or -1. The bound on
// the length keeps what else can nest (signs, conditions) within the stack.
func tooDeep(text string) int {
	depth, at := 0, 0
	var quote rune
	escaped := false
	for _, r := range text {
		switch {
		case quote != 0:
			if r == quote && !escaped {
				quote = 0
			}
			escaped = r == '\\' && !escaped
		case r == '"' || r == '\'' || r == '`':
			quote, escaped = r, false
		case r == '(' || r == '[' || r == '{':
			depth++
		case r == ')' || r == ']' || r == '}':
			depth--
		}
		if depth > maxDepth {
			return at
		}
		at++
	}
	return -1
}
