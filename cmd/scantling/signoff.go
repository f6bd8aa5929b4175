package main

import (
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"example.com/scantling/engine"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/signoff"
)

func (a *app) signoffCommand() *cobra.Command {
	var s finding.Signoff
	cmd := &cobra.Command{
		Use:   "signoff MODEL",
		Short: "Record who accepted a finding, and on what authority",
		Long: "Signoff records in MODEL.signoffs.json that someone has accepted what a rule found on a member. The finding is then\n" +
			"shown as accepted, never hidden. It lapses when the member's own measures or a fact that the rule used change, or its date passes. What could\n" +
			"not be checked cannot be signed off.",
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error { return a.signoff(cmd, args[0], s) },
	}
	f := cmd.Flags()
	f.StringVar(&s.Rule, "rule", "", "the rule, such as practice/bearing-on-masonry")
	f.StringVar(&s.Mark, "mark", "", "the member, area or frame that it was found on")
	f.StringVar(&s.Reason, "reason", "", "why it is accepted")
	f.StringVar(&s.Who, "who", "", "who accepts it")
	f.StringVar(&s.Authority, "authority", "", "on what authority: engineer, building authority ...")
	f.StringVar(&s.Reference, "reference", "", "letter, drawing or mail that says so")
	f.StringVar(&s.Date, "date", "", "when, as 2026-03-01; today where not given")
	f.StringVar(&s.Until, "until", "", "until when it holds; without it, until what it covers changes")
	return cmd
}

func (a *app) signoff(cmd *cobra.Command, file string, s finding.Signoff) error {
	if s.Date == "" {
		s.Date = today()
	}
	if err := complete(&s); err != nil {
		return err
	}
	return a.onModel(file, func(session *engine.Session, src *engine.Source) error {
		run, err := session.Check(cmd.Context(), src, a.judging(engine.Options{}))
		if err != nil {
			return a.packErrors(err)
		}
		entries, err := covering(run.Result.Findings, s)
		if err != nil {
			return err
		}
		if err := signoff.Record(signoff.Path(file), entries); err != nil {
			return unusable{err}
		}
		_, err = fmt.Fprintf(a.out, "recorded in %s: %s on %s, %s\n", signoff.Path(file), s.Rule, s.Mark, counted(len(entries), "finding"))
		return err
	})
}

// complete says everything that a sign-off still lacks.
func complete(s *finding.Signoff) error {
	var wrong []string
	for flag, value := range map[string]string{"rule": s.Rule, "reason": s.Reason, "who": s.Who, "authority": s.Authority} {
		if strings.TrimSpace(value) == "" {
			wrong = append(wrong, "--"+flag+" is not given")
		}
	}
	for flag, value := range map[string]string{"date": s.Date, "until": s.Until} {
		if _, err := time.Parse(time.DateOnly, value); value != "" && err != nil {
			wrong = append(wrong, fmt.Sprintf("--%s is %q; write it as 2026-03-01", flag, value))
		}
	}
	if len(wrong) > 0 {
		return sortedError(wrong)
	}
	return nil
}

// covering is an entry for every finding of the rule on the mark.
func covering(findings []finding.Finding, s finding.Signoff) ([]finding.Signoff, error) {
	var out []finding.Signoff
	unchecked := false
	for i := range findings {
		f := &findings[i]
		if f.Rule != s.Rule || f.Member != s.Mark {
			continue
		}
		if f.Outcome == finding.Unchecked {
			unchecked = true
			continue
		}
		entry := s
		entry.Finding, entry.Digest = f.ID, finding.Digest(f)
		out = append(out, entry)
	}
	switch {
	case len(out) > 0:
		return out, nil
	case unchecked:
		return nil, unusablef("%s on %s could not be checked: a sign-off does not cure that; give the model what is missing", s.Rule, s.Mark)
	}
	return nil, unusablef("nothing is found by %s on %s: there is nothing to accept", s.Rule, s.Mark)
}
