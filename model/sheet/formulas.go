package sheet

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"regexp"
	"strings"
)

// A program that does not compute writes a formula without its value. The library gives such a cell as an empty one, which would
// take a key away: the parts are looked through for them (ECMA-376 part 1, 18.3.1.4 c, 18.3.1.40 f; memory).

// mostUnsaved is how many such cells of a sheet are listed one by one.
const mostUnsaved = 20

// hasFormula finds that a part may hold a formula, in any namespace prefix.
var hasFormula = regexp.MustCompile(`<(\w+:)?f[\s/>]`)

// unsaved is one problem for each cell of the sheets that are read whose formula has no saved value.
func unsaved(data []byte, file string) (Problems, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, err
	}
	sheets, err := sheetParts(z)
	if err != nil {
		return nil, err
	}
	var out Problems
	for _, s := range sheets {
		if formOf(s.name) == nil {
			continue
		}
		part, err := unzip(z, s.part)
		if err != nil {
			return nil, err
		}
		if !hasFormula.Match(part) {
			continue
		}
		cells, err := valueless(part)
		if err != nil {
			return nil, err
		}
		for i, cell := range cells {
			fix := "open the file in the program that computes it and save it, or write the figure itself"
			if i == mostUnsaved {
				out = append(out, Problem{File: file, Sheet: s.name, Message: fmt.Sprintf("%d more cells hold formulas without a saved value", len(cells)-i), Fix: fix})
				break
			}
			out = append(out, Problem{File: file, Sheet: s.name, Cell: cell, Message: "its formula has no saved value, and would be read as an empty cell", Fix: fix})
		}
	}
	return out, nil
}

// sheetPart is a sheet and the part of the package that holds it.
type sheetPart struct{ name, part string }

func sheetParts(z *zip.Reader) ([]sheetPart, error) {
	var book struct {
		Sheets []struct {
			Name string     `xml:"name,attr"`
			All  []xml.Attr `xml:",any,attr"`
		} `xml:"sheets>sheet"`
	}
	top, err := relations(z, "")
	if err != nil {
		return nil, err
	}
	part := ""
	for _, r := range top {
		if strings.HasSuffix(r.Type, "/officeDocument") {
			part = r.Target
		}
	}
	text, err := unzip(z, part)
	if err != nil {
		return nil, err
	}
	if err := xml.Unmarshal(text, &book); err != nil {
		return nil, err
	}
	list, err := relations(z, part)
	if err != nil {
		return nil, err
	}
	var out []sheetPart
	for _, s := range book.Sheets {
		for _, a := range s.All {
			if r, ok := list[a.Value]; ok && a.Name.Local == "id" {
				out = append(out, sheetPart{s.Name, r.Target})
			}
		}
	}
	return out, nil
}

// relation leads from a part to another.
type relation struct {
	ID     string `xml:"Id,attr"`
	Type   string `xml:",attr"`
	Target string `xml:",attr"`
}

// relations of a part, or of the package, by their ids; targets are whole names of parts (ECMA-376 part 2, 6.5; memory).
func relations(z *zip.Reader, part string) (map[string]relation, error) {
	folder, name := path.Split(part)
	text, err := unzip(z, folder+"_rels/"+name+".rels")
	if err != nil {
		return nil, err
	}
	var list struct {
		Of []relation `xml:"Relationship"`
	}
	if err := xml.Unmarshal(text, &list); err != nil {
		return nil, err
	}
	out := map[string]relation{}
	for _, r := range list.Of {
		if !strings.HasPrefix(r.Target, "/") {
			r.Target = path.Join("/", folder, r.Target)
		}
		r.Target = strings.TrimPrefix(r.Target, "/")
		out[r.ID] = r
	}
	return out, nil
}

// unzip reads a part, whose name counts without regard to case.
func unzip(z *zip.Reader, part string) ([]byte, error) {
	for _, f := range z.File {
		if !strings.EqualFold(strings.ReplaceAll(f.Name, `\`, "/"), part) {
			continue
		}
		r, err := f.Open()
		if err != nil {
			return nil, err
		}
		defer r.Close()
		text, err := io.ReadAll(io.LimitReader(r, mostUnzip+1))
		if err == nil && len(text) > mostUnzip {
			err = errors.New(part + " is too large")
		}
		return text, err
	}
	return nil, errors.New(part + " is missing")
}

// valueless lists the cells of a sheet's part that hold a formula and no value. A formula that gave an empty text says so by its
// type.
func valueless(part []byte) (cells []string, err error) {
	type cell struct {
		Place   string    `xml:"r,attr"`
		Type    string    `xml:"t,attr"`
		Formula *struct{} `xml:"f"`
		Value   *string   `xml:"v"`
	}
	d := xml.NewDecoder(bytes.NewReader(part))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return cells, nil
		}
		if err != nil {
			return nil, err
		}
		start, ok := token.(xml.StartElement)
		if !ok || start.Name.Local != "c" {
			continue
		}
		var c cell
		if err := d.DecodeElement(&c, &start); err != nil {
			return nil, err
		}
		if c.Formula != nil && (c.Value == nil || *c.Value == "" && c.Type != "str") {
			cells = append(cells, c.Place)
		}
	}
}
