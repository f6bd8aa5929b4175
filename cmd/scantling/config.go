package main

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/go-viper/mapstructure/v2"
	"github.com/spf13/cobra"
	"github.com/spf13/viper"

	"example.com/scantling/engine"
	"example.com/scantling/plugins/region/host"
)

// settings are what flags, environment and files may set. Things that users name are entries of lists, never keys:
// viper lower-cases keys and splits them at dots.
type settings struct {
	Region     string           `mapstructure:"region"`
	AtLeast    string           `mapstructure:"at_least"`
	Format     string           `mapstructure:"format"`
	Packs      []string         `mapstructure:"packs"`
	Stock      string           `mapstructure:"stock"`
	Regions    []externalRegion `mapstructure:"regions"` // of the user's own file only
	RegionFile string           `mapstructure:"-"`       // of the command line only
	SHA256     string           `mapstructure:"-"`
}

// configure merges the settings: flag, then SCANTLING_*, then the project's file (nearest above the working folder, up
// to the repository's root), then the user's file, then defaults. Scalars replace. Packs add up, the user's first and the
// command line's last, so that the nearest can change what the others say.
func (a *app) configure(cmd *cobra.Command) error {
	user, err := readSettings(userFile(), true)
	if err != nil {
		return err
	}
	project, err := readSettings(projectFile(), false)
	if err != nil {
		return err
	}
	env := environment()
	a.settings = settings{AtLeast: "stop"}
	for _, layer := range []settings{user, project, env, a.flags} {
		a.settings.over(layer)
	}
	for _, s := range []struct{ from, said string }{{"SCANTLING_AT_LEAST", env.AtLeast}, {"--at-least", a.flags.AtLeast}} {
		if s.said != "" && !isThreshold(s.said) {
			return unusablef("%s is %q; write stop, ask or note", s.from, s.said)
		}
	}
	return nil
}

// over lays another layer over the settings.
func (s *settings) over(o settings) {
	for _, p := range []struct{ to, from *string }{
		{&s.Region, &o.Region}, {&s.AtLeast, &o.AtLeast}, {&s.Format, &o.Format}, {&s.Stock, &o.Stock},
		{&s.RegionFile, &o.RegionFile}, {&s.SHA256, &o.SHA256},
	} {
		if *p.from != "" {
			*p.to = *p.from
		}
	}
	s.Packs = append(s.Packs, o.Packs...)
	s.Regions = append(s.Regions, o.Regions...)
}

// regions is where regions are found.
func (s *settings) regions() (*directory, error) {
	d := &directory{external: s.Regions}
	switch {
	case s.RegionFile != "" && s.SHA256 == "":
		return nil, unusablef("--region-file needs --sha256: pin the executable that you trust; `scantling region pin %s` prints its digest", s.RegionFile)
	case s.RegionFile != "":
		d.always = &host.Options{File: s.RegionFile, SHA256: s.SHA256}
	case s.SHA256 != "":
		return nil, unusablef("--sha256 pins the executable of --region-file, which is not given")
	}
	for _, e := range s.Regions {
		if e.File == "" || e.SHA256 == "" || len(e.Codes) == 0 {
			return nil, unusablef("an entry under regions in %s needs file, sha256 and codes", userFile())
		}
	}
	return d, nil
}

// judging adds the region to what a run is to do: the command line's beats the model's own, which beats the settings.
func (a *app) judging(o engine.Options) engine.Options {
	o.Region, o.Default = a.flags.Region, a.settings.Region
	return o
}

// environment is what SCANTLING_* sets; several packs are separated as in PATH.
func environment() settings {
	v := viper.New()
	v.SetEnvPrefix("scantling")
	v.AutomaticEnv()
	s := settings{Region: v.GetString("region"), AtLeast: v.GetString("at_least"), Format: v.GetString("format"), Stock: v.GetString("stock")}
	if packs := v.GetString("packs"); packs != "" {
		s.Packs = filepath.SplitList(packs)
	}
	return s
}

// readSettings reads one file; an empty name, or one that is not there, sets nothing. Paths in it are relative to it.
func readSettings(file string, own bool) (settings, error) {
	var s settings
	if file == "" {
		return s, nil
	}
	text, err := os.ReadFile(file)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return s, nil
	case err != nil:
		return s, unusablef("the settings cannot be read: %v", err)
	}
	if err := checkSettings(file, own, text); err != nil {
		return s, err
	}
	v := viper.New()
	v.SetConfigType("yaml")
	strict := func(c *mapstructure.DecoderConfig) { c.WeaklyTypedInput = false }
	if err := errors.Join(v.ReadConfig(bytes.NewReader(text)), v.UnmarshalExact(&s, strict)); err != nil {
		return s, unusablef("%s: %v", file, err)
	}
	folder := filepath.Dir(file)
	for i, p := range s.Packs {
		s.Packs[i] = from(folder, p)
	}
	for i := range s.Regions {
		s.Regions[i].File = from(folder, s.Regions[i].File)
	}
	if s.Stock != "" {
		s.Stock = from(folder, s.Stock)
	}
	return s, nil
}

func from(folder, path string) string {
	if path == "" || filepath.IsAbs(path) {
		return path
	}
	return filepath.Join(folder, path)
}

// userFile is the user's own file.
func userFile() string {
	dir, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "scantling", "scantling.yaml")
}

// projectFile is the nearest scantling.yaml above the working folder, no further up than the repository's root.
func projectFile() string {
	for _, file := range projectFiles() {
		if info, err := os.Stat(file); err == nil && info.Mode().IsRegular() {
			return file
		}
	}
	return ""
}

// projectFiles is where the project's file may stand, the nearest first.
func projectFiles() []string {
	dir, err := os.Getwd()
	if err != nil {
		return nil
	}
	var files []string
	for {
		files = append(files, filepath.Join(dir, "scantling.yaml"))
		if _, err := os.Stat(filepath.Join(dir, ".git")); err == nil {
			return files
		}
		parent := filepath.Dir(dir)
		if parent == dir {
			return files
		}
		dir = parent
	}
}
