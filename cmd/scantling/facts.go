package main

import (
	"bytes"
	"cmp"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"example.com/scantling/engine"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/model"
	"example.com/scantling/rules/vocabulary"
)

func (a *app) factsCommand() *cobra.Command {
	var piece string
	cmd := &cobra.Command{
		Use:   "facts [MODEL MARK]",
		Short: "List the vocabulary, or every fact of a member",
		Long: "Facts lists what a rule can name of MARK, as worked out for its worst piece and its supports, with the region's\n" +
			"working. Without a model it lists the vocabulary: every fact with its dimension and what it is.\n\n" +
			"Exit status: 0 the facts are listed; 2 the input or the call cannot be used; 3 the run is incomplete.",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			return cobra.ExactArgs(2)(cmd, args)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			session, err := a.session()
			if err != nil {
				return err
			}
			defer session.Close()
			if len(args) == 0 {
				_, book, err := session.Rules(cmd.Context(), a.settings.Region)
				if book == nil {
					return err
				}
				a.regionFailed(err)
				return a.print(func(w *bytes.Buffer) error { return printVocabulary(w, book) })
			}
			src, problems := a.one(args[0])
			if problems != nil {
				return a.refuse(problems)
			}
			run, err := session.Check(cmd.Context(), src, a.judging(engine.Options{Working: true}))
			if err != nil {
				return a.packErrors(err)
			}
			told, err := run.Facts(args[1], piece)
			if err != nil {
				return unusable{err}
			}
			if len(run.Incomplete()) > 0 {
				a.status = statusIncomplete
			}
			if a.format("text") == "json" {
				return a.print(func(w *bytes.Buffer) error { return report.WriteJSON(w, told.JSON()) })
			}
			return a.print(func(w *bytes.Buffer) error { return printFacts(w, told, run) })
		},
	}
	cmd.Flags().StringVar(&piece, "piece", "", "a piece by its name, instead of the worst")
	cmd.Flags().StringVar(&a.flags.Format, "format", "", "text or json")
	return cmd
}

// printVocabulary lists every fact with its type, dimension and meaning.
func printVocabulary(w *bytes.Buffer, book *vocabulary.Book) error {
	for _, s := range vocabulary.Subjects() {
		fmt.Fprintf(w, "%s\n", strings.ToUpper(s.String()))
		for _, f := range book.Facts(s) {
			kind := f.Type.String()
			if f.Type == vocabulary.Number {
				kind = f.Dimension.String()
			}
			fmt.Fprintln(w, hanging(fmt.Sprintf("  %s (%s): %s%s", f.Name, kind, f.Text, oneOf(f.Words))))
		}
		for _, r := range book.Relations(s) {
			kind := "one " + r.To.String()
			if r.Many {
				kind = "each a " + r.To.String()
			}
			fmt.Fprintln(w, hanging(fmt.Sprintf("  %s (%s): %s", r.Name, kind, r.Text)))
		}
		fmt.Fprintln(w)
	}
	return nil
}

// oneOf lists the words that a text can be, behind what it is.
func oneOf(w vocabulary.Words) string {
	switch {
	case len(w.List) == 0:
		return ""
	case w.Open:
		return "; " + strings.Join(w.List, ", ") + ", or another"
	}
	return "; one of " + strings.Join(w.List, ", ")
}

// limitDigits is how many digits a fact is printed with: of a ratio as many as tell it from 1.
func limitDigits(f engine.ToldFact, u model.Units) int {
	if f.Dimension != model.Plain {
		return model.UsualDigits
	}
	return model.Apart(f.Number, 1, f.Dimension, u)
}

// printFacts lists a piece's facts in words.
func printFacts(w *bytes.Buffer, told *engine.Told, run *engine.Run) error {
	units := run.Source.Document.Units
	fmt.Fprintf(w, "Facts of %s\n\n", told.Piece)
	under := map[string]string{}
	for _, f := range told.Facts {
		under[f.Name] = f.Case
		is := ""
		switch {
		case f.Absent != "":
			is = "not known, because " + f.Absent
		case f.Text != nil:
			is = cmp.Or(*f.Text, "none")
		case f.Truth != nil:
			is = map[bool]string{true: "yes", false: "no"}[*f.Truth]
		default:
			is = model.FormatTo(limitDigits(f, units), f.Number, f.Dimension, units)
			if f.Case != "" {
				is += " under " + f.Case
			}
		}
		fmt.Fprintln(w, hanging("  "+f.Name+": "+is))
	}
	for _, name := range told.WorkingOrder {
		fmt.Fprintf(w, "\nWorking of %s\n", name)
		if under[name] != "" {
			fmt.Fprintln(w, hanging("  under "+under[name]))
		}
		for _, s := range told.Working[name] {
			lead := fmt.Sprintf("  %-14s = %s   ", s.Symbol, report.StepWords(s, units))
			fmt.Fprintln(w, strings.TrimRight(lead+strings.Join(report.Wrap(s.Clause, 80-utf8.RuneCountInString(lead)), "\n"+strings.Repeat(" ", 19)), " "))
		}
	}
	fmt.Fprintln(w)
	for _, line := range report.Wrap(finding.Caution, 80) {
		fmt.Fprintln(w, line)
	}
	return nil
}
