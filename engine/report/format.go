package report

import (
	"fmt"
	"io"
	"os"
	"strings"
)

// Printer prints one thing in one format. The same value gives the same bytes.
type Printer[T any] interface {
	Print(w io.Writer, v T) error
}

// Options are what a person may choose about the output.
type Options struct {
	Colour  bool // headings in colour, see Coloured; the words stand without it
	Working bool // the working of each finding too
	// Text gives the bytes of a file that findings lie in, nil if there are none. SARIF counts columns in UTF-16 code
	// units where it has the text, and in code points where it has not.
	Text func(file string) []byte
}

// Format is a printer under the name that people ask for.
type Format[T any] struct {
	Name string
	New  func(Options) Printer[T]
}

// Formats is what one verb can print, in the order of the names.
type Formats[T any] []Format[T]

// Printer is the printer of that name, or an *UnknownFormat.
func (f Formats[T]) Printer(name string, o Options) (Printer[T], error) {
	for _, format := range f {
		if format.Name == name {
			return format.New(o), nil
		}
	}
	return nil, &UnknownFormat{Name: name, Known: f.Names()}
}

// Names lists the formats in order.
func (f Formats[T]) Names() []string {
	names := make([]string, len(f))
	for i, format := range f {
		names[i] = format.Name
	}
	return names
}

// UnknownFormat says that a verb cannot print a format, and which it can.
type UnknownFormat struct {
	Name  string
	Known []string
}

// Error names the known formats.
func (e *UnknownFormat) Error() string {
	return fmt.Sprintf("format %q is not known; use %s", e.Name, strings.Join(e.Known, ", "))
}

// Checks are the formats of what a check has found.
var Checks = Formats[Run]{
	{"json", func(o Options) Printer[Run] { return jsonPrinter{o} }},
	{"json-lines", func(o Options) Printer[Run] { return linesOfJSON{o} }},
	{"junit", func(Options) Printer[Run] { return junitPrinter{} }},
	{"lines", func(Options) Printer[Run] { return linePrinter{} }},
	{"sarif", func(o Options) Printer[Run] { return sarifPrinter{o} }},
	{"text", func(o Options) Printer[Run] { return textPrinter{o} }},
}

// Coloured tells whether output may be coloured: only on a terminal, and not where NO_COLOR (https://no-color.org) or a
// dumb terminal says otherwise. getenv is os.Getenv outside tests.
func Coloured(out io.Writer, getenv func(string) string) bool {
	file, ok := out.(*os.File)
	if !ok || getenv("NO_COLOR") != "" || getenv("TERM") == "dumb" {
		return false
	}
	info, err := file.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
