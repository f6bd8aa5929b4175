package sheet

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"example.com/scantling/model"
	"example.com/scantling/model/cutting"
	"example.com/scantling/model/draft"
	"example.com/scantling/model/read"
)

var demos = []string{"quillmere.json", "quillmere-faulty.json", "larkrun-porch.json"}

func source(t testing.TB, name string) (read.Source, *model.Document) {
	text, err := os.ReadFile("../../testdata/" + name)
	require.NoError(t, err)
	d, problems := read.Document(text, name)
	require.Empty(t, problems)
	return read.Source{Name: name, Text: text}, d
}

func tablesOf(d *model.Document) []Table {
	return Tables(d, cutting.Make(d, cutting.Options{Density: func(*model.Member) float64 { return 420e-9 }}))
}

func xlsx(t testing.TB, tables []Table) []byte {
	var out bytes.Buffer
	require.NoError(t, WriteXLSX(&out, tables, "an aid to checking"))
	return out.Bytes()
}

func csvOf(t testing.TB, table *Table) []byte {
	var out bytes.Buffer
	require.NoError(t, WriteCSV(&out, table, "an aid to checking"))
	return out.Bytes()
}

func TestASheetWrittenOutAndReadBackIsTheSameModel(t *testing.T) {
	for _, name := range demos {
		base, d := source(t, name)
		got, problems := Read(xlsx(t, tablesOf(d)), name+".xlsx", Options{Base: &base})
		require.Empty(t, problems, name)
		assert.Equal(t, string(base.Text), string(got.Text), "not a byte of %s changes", name)
		assert.Empty(t, got.Changed)
		assert.Empty(t, got.Added)
		assert.Empty(t, got.Missing)
		for _, table := range forms(d) {
			got, problems := Read(csvOf(t, &table), "table.csv", Options{Base: &base})
			require.Empty(t, problems, "%s of %s as CSV", table.Name, name)
			assert.Equal(t, string(base.Text), string(got.Text))
		}
	}
}

func TestAModelIsMadeFromTheSheetsAlone(t *testing.T) {
	for _, k := range draft.Kinds {
		for _, u := range []model.Units{model.Metric, model.US} {
			d, err := draft.Make(draft.Options{Kind: k.Kind, Units: u, Region: "GB-ENG"})
			require.NoError(t, err)
			got, problems := Read(xlsx(t, tablesOf(d)), "new.xlsx", Options{})
			require.Empty(t, problems, k.Kind)
			assert.Equal(t, forms(d), forms(got.Document), "%s: every cell is what it was", k.Kind)
			require.Len(t, got.Document.Members, len(d.Members))
			for i := range d.Members {
				a, b := &d.Members[i], &got.Document.Members[i]
				assert.Equal(t, a.Path, b.Path)
				assert.Equal(t, a.Section, b.Section)
				assert.Equal(t, a.Supports, b.Supports)
				assert.Equal(t, a.Carries, b.Carries)
				assert.Equal(t, a.Repeat, b.Repeat)
			}
			assert.Len(t, got.Added, len(d.Members))
		}
	}
}

// What no column holds stands under More, so that the sheets alone give the whole of a document.
func TestTheSheetsAloneHoldTheWholeOfADocument(t *testing.T) {
	for _, name := range demos {
		_, d := source(t, name)
		got, problems := Read(xlsx(t, tablesOf(d)), "alone.xlsx", Options{})
		require.Empty(t, problems, name)
		assert.Equal(t, string(read.Write(d)), string(read.Write(got.Document)), name)
	}
}

func TestWhatStandsUnderMoreIsReadLikeAnyCell(t *testing.T) {
	base, d := source(t, "larkrun-porch.json")
	tables := tablesOf(d)
	member := func(mark string) string { return place(t, tables, Members, mark, "", "More") }
	read := func(cells map[string]any) (*Result, Problems) {
		return Read(edit(t, xlsx(t, tables), cells), "x.xlsx", Options{Base: &base})
	}
	got, problems := read(map[string]any{
		member("DB1"): `{"restraint": {"bottom": 24}}`,
		member("PT1"): nil,
		place(t, tables, Supports, "RA2", "2", "More"): `{"notch": {"to_reaction": 2}}`,
	})
	require.Empty(t, problems)
	assert.ElementsMatch(t, []string{"DB1", "PT1", "RA2"}, got.Changed)
	assert.False(t, got.Document.Member("DB1").Restraint.Top.Said, "what stood there is taken away")
	assert.True(t, got.Document.Member("DB1").Restraint.Bottom.Said)
	assert.Empty(t, got.Document.Member("DB1").Detail.PliesJoined)
	assert.False(t, got.Document.Member("PT1").Restraint.Top.Said)
	notch := got.Document.Member("RA2").Supports[1].Notch
	assert.InDelta(t, 1.2*25.4, notch.Depth.Value, 1e-9, "what the columns hold stays")
	assert.InDelta(t, 2*25.4, notch.ToReaction.Value, 1e-9)

	for _, c := range []struct{ what, cell, want string }{
		{"no JSON", "restrained", "this is no JSON object"},
		{"a list", "[1]", "this is no JSON object"},
		{"two objects", "{} {}", "this is no JSON object"},
		{"what a column holds", `{"section": "2x4"}`, `"section" is what the column Section holds`},
		{"what a sheet holds", `{"supports": []}`, `"supports" has no place here`},
		{"an unknown key", `{"restrant": "full"}`, `"restrant" is no key of a member`},
		{"a wrong value", `{"restraint": {"top": "some"}}`, `"some"`},
	} {
		_, problems := read(map[string]any{member("DB1"): c.cell})
		require.NotEmpty(t, problems, c.what)
		assert.Contains(t, problems.Error(), member("DB1")+": ", c.what)
		assert.Contains(t, problems.Error(), c.want, c.what)
	}
}

// edit changes cells of a workbook.
func edit(t testing.TB, data []byte, cells map[string]any) []byte {
	f, err := excelize.OpenReader(bytes.NewReader(data))
	require.NoError(t, err)
	defer f.Close()
	for place, v := range cells {
		sheet, cell, _ := strings.Cut(place, "!")
		require.NoError(t, f.SetCellValue(sheet, cell, v))
	}
	var out bytes.Buffer
	require.NoError(t, f.Write(&out))
	return out.Bytes()
}

// place is the cell of a mark (and support number) under a heading.
func place(t testing.TB, tables []Table, sheet, mark, number, title string) string {
	table := Find(tables, sheet)
	require.NotNil(t, table)
	for c := range table.Columns {
		if table.Columns[c].Title != title {
			continue
		}
		for r, row := range table.Rows {
			if row[0].Text == mark && (number == "" || row[1].Text == number) {
				name, err := excelize.CoordinatesToCellName(c+1, r+2)
				require.NoError(t, err)
				return sheet + "!" + name
			}
		}
	}
	require.Fail(t, "no such cell: "+sheet+" "+mark+" "+title)
	return ""
}

func TestEveryBadCellIsToldWithItsPlaceInOneGo(t *testing.T) {
	base, d := source(t, "quillmere.json")
	tables := tablesOf(d)
	at := func(sheet, mark, number, title string) string { return place(t, tables, sheet, mark, number, title) }
	bad := []struct {
		what, cell string
		value      any
		want       string
	}{
		{"a section in words", at(Members, "RN", "", "Section"), "47 by 195", `"47 by 195" is no section that is known here`},
		{"a count of none", at(Members, "RN", "", "Count"), 0, "0"},
		{"centres that are a word", at(Members, "RS", "", "Centres"), "close", `"close"`},
		{"a path of one point", at(Members, "P1", "", "Path"), "1, 2, 3", "a path of 1 points leads nowhere"},
		{"a point with a word in it", at(Members, "P2", "", "Path"), "0, 0, low; 0, 0, 3000", `"low"`},
		{"an area that is not there", at(Members, "CJ1", "", "Carries"), "attic: 400", `no area is called "attic"`},
		{"strips that nobody can read", at(Members, "CJ2", "", "Carries"), "tiles: 400: 2", "cannot be read"},
		{"a truth that is none", at(Members, "WPN", "", "Flat"), "perhaps", "true"},
		{"a phase that is none", at(Members, "CJ3", "", "Phase"), "soon", `"soon"`},
		{"a mark that is there twice", at(Members, "GJ4", "", "Mark"), "GJ3", "stands in row"},
		{"a bearing below nothing", at(Supports, "RB1", "1", "Bearing"), -5, "-5"},
		{"a fixing that is none", at(Supports, "RB1", "2", "By"), "glue", `"glue"`},
		{"a support of nobody", at(Supports, "RB2", "1", "Mark"), "RB9", `no member is called "RB9"; write "RB`},
		{"a number of support that is none", at(Supports, "H1", "2", "No."), "two", `"two" is no number of a support`},
		{"kept where there is nothing", at(Members, "RE", "", "Treated"), Kept, "nothing to keep"},
		{"a load with the wrong unit", at(Areas, "tiles", "", "Dead"), "3 kN", "is a force"},
		{"units that would change every figure", Model + "!B2", "us", "cannot change the units"},
		{"a second row of what there is one of", Model + "!B3", "furlongs", "the model has one row"},
		{"a heading that is unknown", Supports + "!V1", "Strenth", "no column is called"},
		{"a heading twice", Members + "!Y1", "Role", "is there twice"},
	}
	cells := map[string]any{}
	for _, b := range bad {
		cells[b.cell] = b.value
	}
	got, problems := Read(edit(t, xlsx(t, tables), cells), "filled.xlsx", Options{Base: &base})
	require.Nil(t, got)
	lines := strings.Split(problems.Error(), "\n")
	for _, b := range bad {
		found := false
		for _, line := range lines {
			found = found || strings.HasPrefix(line, "filled.xlsx: "+b.cell+": ") && strings.Contains(line, b.want)
		}
		assert.True(t, found, "%s: %s: %s in\n%s", b.what, b.cell, b.want, problems.Error())
	}
	assert.Len(t, problems, len(bad), problems.Error())
}

func TestAnUpdateChangesWhatItSaysAndNothingElse(t *testing.T) {
	base, d := source(t, "quillmere.json")
	tables := tablesOf(d)
	at := func(sheet, mark, number, title string) string { return place(t, tables, sheet, mark, number, title) }
	got, problems := Read(edit(t, xlsx(t, tables), map[string]any{
		at(Members, "RN", "", "Section"):             "47x170",
		at(Members, "RN", "", "Grade"):               "C16",
		at(Supports, "RB1", "1", "Bearing"):          123,
		at(Supports, "ST1", "1", "Bearing"):          "5.1 in",
		at(Members, "P1", "", "Note"):                "moved by the engineer",
		at(Members, "WN", "", "Covered by"):          "plaster",
		at(Supports, "CJ1", "2", "Stated by"):        nil,
		at(Areas, "tiles", "", "Dead"):               0.9,
		"Members!A" + strconv.Itoa(len(d.Members)+5): "NEW1",
		"Members!B" + strconv.Itoa(len(d.Members)+5): "post",
	}), "filled.xlsx", Options{Base: &base})
	require.Empty(t, problems)
	assert.ElementsMatch(t, []string{"RN", "RB1", "ST1", "P1", "WN", "CJ1"}, got.Changed)
	assert.Equal(t, []string{"NEW1"}, got.Added)
	n := got.Document
	assert.Equal(t, "47x170", n.Member("RN").Section.Text)
	assert.Equal(t, "C16", n.Member("RN").Grade)
	assert.InDelta(t, 123, n.Member("RB1").Supports[0].Bearing.Value, 1e-9)
	assert.InDelta(t, 5.1*25.4, n.Member("ST1").Supports[0].Bearing.Value, 1e-9)
	assert.Equal(t, d.Member("ST1").Supports[0].Seat, n.Member("ST1").Supports[0].Seat, "what the cells show is kept as well")
	assert.Empty(t, n.Member("CJ1").Supports[1].Capacity.By)
	assert.Equal(t, d.Member("CJ1").Supports[1].Capacity.Down, n.Member("CJ1").Supports[1].Capacity.Down)
	assert.Equal(t, d.Member("WN").Detail.Masonry, n.Member("WN").Detail.Masonry, "what no sheet shows stays")
	assert.InDelta(t, 0.9e-3, n.Area("tiles").Loads[0].Value, 1e-12)
	assert.Equal(t, d.Member("H1"), withOffset(n.Member("H1"), d.Member("H1").Offset))
}

func withOffset(m *model.Member, offset int64) *model.Member {
	c := *m
	c.Offset = offset
	return &c
}

func TestMembersWithoutARowStay(t *testing.T) {
	base, _ := source(t, "quillmere.json")
	got, problems := Read([]byte("Mark,Grade\nRN,C16\n"), "few.csv", Options{Base: &base})
	require.Empty(t, problems)
	assert.Equal(t, []string{"RN"}, got.Changed)
	assert.Equal(t, "C16", got.Document.Member("RN").Grade)
	assert.NotNil(t, got.Document.Member("RN").Section, "a column that is not there takes nothing away")
	assert.Contains(t, got.Missing, "RS")
	assert.NotNil(t, got.Document.Member("RS"))
}

func TestTheOrderOfSupportsFollowsTheRows(t *testing.T) {
	base, d := source(t, "quillmere.json")
	got, problems := Read([]byte("Mark,No.,On\nRB1,2,P2\nRB1,1,P1\nRB1,,WX1\n"), "s.csv", Options{Base: &base})
	require.Empty(t, problems)
	s := got.Document.Member("RB1").Supports
	require.Len(t, s, 3)
	assert.Equal(t, d.Member("RB1").Supports[1], s[0])
	assert.Equal(t, d.Member("RB1").Supports[0], s[1])
	assert.Equal(t, "WX1", s[2].On)
}

func TestFilesThatAreNoSheets(t *testing.T) {
	for _, c := range []struct{ what, text, want string }{
		{"an empty file", "", "the file is empty"},
		{"a broken workbook", "PK\x03\x04 and then nothing", "no spreadsheet that can be read"},
		{"a table without marks", "Role,Section\nrafter,47x145\n", `A1: there is no column "Mark"`},
		{"figures in other units", "Mark,Role,Centres (in)\nR1,rafter,16\n", `C1: the heading gives "in", and the model is in "mm"`},
		{"a figure under no heading", "Mark,Role,,Section\nR1,rafter,,47x145\nR2,rafter,9,47x145,oak\n# a remark,,more of it\n", `C3: "9" stands under no heading`},
		{"a word beside the table", "Mark,Role\nR1,rafter,oak\n", `C2: "oak" stands under no heading; give the column its heading, or clear the cell`},
		{"a quote that never ends", "Mark,Role\n\"R1,rafter\n", "no table that can be read"},
		{"a member without a role", "Mark,Section\nR1,47x145\n", "A2: "},
		{"no member at all", "Mark,Role\n", "the document has no members"},
		{"a row without a mark", "Mark,Role\nR1,rafter\n\n,post\n", "A4: the row has no mark"},
		{"cells that are kept of nothing", "Mark,Role,Section\nR1,rafter," + Kept + "\n", "C2: " + Kept},
	} {
		got, problems := Read([]byte(c.text), "in", Options{})
		assert.Nil(t, got, c.what)
		require.NotEmpty(t, problems, c.what)
		assert.Contains(t, problems.Error(), c.want, c.what)
	}
}

func TestTextsThatLookLikeFormulasStayTexts(t *testing.T) {
	base := read.Source{Name: "m", Text: []byte(`{"framing": 1, "members": {"=R1": {"role": "rafter", "section": "47x145", "path": [[0,0,0],[0,1000,0]], "note": "@x"}}}`)}
	d, problems := read.Document(base.Text, "m")
	require.Empty(t, problems)
	table := Find(forms(d), Members)
	text := string(csvOf(t, table))
	assert.Contains(t, text, "'=R1")
	assert.Contains(t, text, "'@x")
	got, found := Read([]byte(text), "m.csv", Options{Base: &base})
	require.Empty(t, found)
	assert.Empty(t, got.Changed)
	f, err := excelize.OpenReader(bytes.NewReader(xlsx(t, forms(d))))
	require.NoError(t, err)
	defer f.Close()
	formula, err := f.GetCellFormula(Members, "A2")
	require.NoError(t, err)
	assert.Empty(t, formula)
}

// A formula that the program which wrote it did not compute would be read as an empty cell, and take its key away.
func TestFormulasWithoutASavedValue(t *testing.T) {
	text := []byte(`{"framing": 1, "members": {"R1": {"role": "rafter", "section": "47x145", "path": [[0,0,0],[0,1000,0]], "centres": 400, "note": "first"}, "R2": {"role": "rafter"}}}`)
	base := read.Source{Name: "m", Text: text}
	d, problems := read.Document(text, "m")
	require.Empty(t, problems)
	column := membersForm.find("Centres")
	require.GreaterOrEqual(t, column, 0)
	centres, note := cellName(ref{row: 2, col: column}), cellName(ref{row: 2, col: membersForm.find("Note")}) // of R2, which has neither
	filled := func(change func(f *excelize.File)) []byte {
		f, err := excelize.OpenReader(bytes.NewReader(xlsx(t, forms(d))))
		require.NoError(t, err)
		defer f.Close()
		change(f)
		var out bytes.Buffer
		require.NoError(t, f.Write(&out))
		return out.Bytes()
	}
	_, found := Read(filled(func(f *excelize.File) {
		require.NoError(t, f.SetCellFormula(Members, centres, "200*2"))
		require.NoError(t, f.SetCellFormula(Members, note, "A3"))
	}), "m.xlsx", Options{Base: &base})
	require.Len(t, found, 2)
	assert.Equal(t, "m.xlsx: Members!"+centres+": its formula has no saved value, and would be read as an empty cell; open the file in the program that computes it and save it, or write the figure itself", found[0].Error())
	assert.Equal(t, note, found[1].Cell)

	many, found := Read(filled(func(f *excelize.File) {
		for row := range 50 {
			require.NoError(t, f.SetCellFormula(Members, cellName(ref{row: row + 2, col: column}), "200*2"))
		}
	}), "m.xlsx", Options{Base: &base})
	assert.Nil(t, many)
	require.Len(t, found, mostUnsaved+1)
	assert.Contains(t, found[mostUnsaved].Message, "30 more cells")

	got, found := Read(filled(func(f *excelize.File) {
		_, err := f.NewSheet("Workings")
		require.NoError(t, err)
		require.NoError(t, f.SetCellFormula("Workings", "A1", "1+1"))
	}), "m.xlsx", Options{Base: &base})
	require.Empty(t, found, "of a sheet that is not read nothing is asked")
	assert.Empty(t, got.Changed)
}

// What is saved counts, whoever saved it: cells as programs write them.
func TestCellsWithoutAValue(t *testing.T) {
	cells, err := valueless([]byte(`<x:worksheet xmlns:x="m"><x:sheetData><x:row r="1"><x:c r="A1"><x:f>1+1</x:f><x:v>2</x:v></x:c><x:c r="B1"><x:f>1+1</x:f><x:v/></x:c>
		<x:c r="C1"><x:f t="shared" si="0"/></x:c><x:c r="D1" t="str"><x:f>""</x:f><x:v></x:v></x:c><x:c r="E1"/><x:c r="F1" t="e"><x:f>1/0</x:f><x:v>#DIV/0!</x:v></x:c></x:row></x:sheetData></x:worksheet>`))
	require.NoError(t, err)
	assert.Equal(t, []string{"B1", "C1"}, cells)
}

func TestAScheduleInWords(t *testing.T) {
	d, err := draft.Make(draft.Options{Kind: draft.LeanTo})
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, WriteText(&out, lists(cutting.Make(d, cutting.Options{})), "Caution."))
	for _, want := range []string{"Cutting\n", "Ordering\n", "Plan\n", "47x145", "plumb 20.0°", "Caution.\n"} {
		assert.Contains(t, out.String(), want)
	}
	assert.NotContains(t, out.String(), "Weight", "a column without a figure is left out")
}

// Text of a document in inches says feet and inches; the sheets that are read back keep bare numbers.
func TestAScheduleInFeetAndInches(t *testing.T) {
	_, d := source(t, "larkrun-porch.json")
	tables := lists(cutting.Make(d, cutting.Options{}))
	var out bytes.Buffer
	require.NoError(t, WriteText(&out, tables, ""))
	for _, want := range []string{"length 16 ft;", "length 5 1/2 in;", "at 9 ft 7 11/16 in, 1 3/16 in deep", "PA1, PA2\n", "cut into 16 ft (RH1)"} {
		assert.Contains(t, out.String(), want)
	}
	assert.NotContains(t, out.String(), "-0 in")
	assert.NotContains(t, out.String(), "192")
	assert.Equal(t, "192", Find(tables, Ordering).Rows[1][3].Text)
}

// The workbook is opened by another program, and each sheet that it gives as CSV is held against the tables.
func TestAnotherProgramReadsTheSameNumbers(t *testing.T) {
	office, err := exec.LookPath("soffice")
	if err != nil {
		t.Skip("LibreOffice is not here (no soffice on the path): the workbook is not opened by another program")
	}
	if testing.Short() {
		t.Skip("starting LibreOffice takes seconds")
	}
	_, d := source(t, "quillmere.json")
	tables := tablesOf(d)
	dir := t.TempDir()
	file := filepath.Join(dir, "schedule.xlsx")
	require.NoError(t, os.WriteFile(file, xlsx(t, tables), 0o600))
	// Comma, double quotes, UTF-8, from row 1, figures as they are and not as they are shown, every sheet.
	cmd := exec.Command(office, "-env:UserInstallation=file://"+filepath.Join(dir, "profile"), "--headless",
		"--convert-to", "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1", "--outdir", dir, file)
	cmd.WaitDelay = time.Minute
	said, err := cmd.CombinedOutput()
	require.NoError(t, err, string(said))
	for _, table := range tables {
		text, err := os.ReadFile(filepath.Join(dir, "schedule-"+table.Name+".csv"))
		require.NoError(t, err, "%s; %s", table.Name, said)
		r := csv.NewReader(bytes.NewReader(text))
		r.FieldsPerRecord = -1
		got, err := r.ReadAll()
		require.NoError(t, err)
		require.GreaterOrEqual(t, len(got), 1+len(table.Rows))
		figures := 0
		for i, row := range table.Rows {
			for k, cell := range row {
				if cell.Figure {
					want, err := strconv.ParseFloat(cell.Text, 64)
					require.NoError(t, err)
					have, err := strconv.ParseFloat(got[1+i][k], 64)
					require.NoError(t, err, "%s row %d column %d", table.Name, i+2, k+1)
					assert.InEpsilon(t, want+1, have+1, 1e-12, "%s row %d column %d", table.Name, i+2, k+1)
					figures++
				} else if !cell.Truth {
					assert.Equal(t, cell.Text, got[1+i][k], "%s row %d column %d", table.Name, i+2, k+1)
				}
			}
		}
		assert.Positive(t, figures, "%s has figures to compare", table.Name)
	}
}

func TestRandomEditsAreReadAsTheyWereWritten(t *testing.T) {
	base, d := source(t, "larkrun-porch.json")
	r := rand.New(rand.NewPCG(3, 5))
	for range 20 {
		tables := forms(d)
		m := Find(tables, Members)
		row := m.Rows[r.IntN(len(m.Rows))]
		want := strconv.FormatFloat(1+r.Float64()*300, 'f', r.IntN(12), 64) // up to fifteen digits, as spreadsheets keep
		row[10] = Cell{Text: want, Figure: true}                            // centres
		got, problems := Read(xlsx(t, tables), "x.xlsx", Options{Base: &base})
		require.Empty(t, problems)
		inches, err := strconv.ParseFloat(want, 64)
		require.NoError(t, err)
		assert.Equal(t, []string{row[0].Text}, got.Changed)
		assert.Equal(t, inches*25.4, got.Document.Member(row[0].Text).Centres.Value)
	}
}

func FuzzRead(f *testing.F) {
	d, err := draft.Make(draft.Options{Kind: draft.LeanTo})
	require.NoError(f, err)
	book := xlsx(f, forms(d))
	base := read.Source{Name: "m", Text: read.Write(d)}
	f.Add(book)
	f.Add(book[:len(book)/2])
	f.Add(csvOf(f, Find(forms(d), Members)))
	f.Add(csvOf(f, Find(forms(d), Supports)))
	f.Add([]byte("Mark;Role\nR1;rafter\n"))
	f.Add([]byte("Mark,Path,Carries,Step\nR1,;;,:,\",\"\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, o := range []Options{{}, {Base: &base}} {
			got, problems := Read(data, "f", o)
			if (got == nil) == (problems == nil) {
				t.Fatal("either a model or problems")
			}
		}
	})
}

func BenchmarkReadOfTheDemo(b *testing.B) {
	base, d := source(b, "quillmere.json")
	book := xlsx(b, tablesOf(d))
	b.ReportAllocs()
	for b.Loop() {
		if _, problems := Read(book, "x.xlsx", Options{Base: &base}); problems != nil {
			b.Fatal(problems)
		}
	}
}

func TestBooksThatClaimToBeVastAreLeftEarly(t *testing.T) {
	_, d := source(t, "larkrun-porch.json")
	far := edit(t, xlsx(t, forms(d)), map[string]any{"Members!A1048576": "Z1"})
	_, problems := Read(far, "far.xlsx", Options{})
	assert.Contains(t, problems.Error(), "far.xlsx: Members: it has more than 100000 rows")
	wide := edit(t, xlsx(t, forms(d)), map[string]any{"Members!XFD2": "Z1"})
	_, problems = Read(wide, "wide.xlsx", Options{})
	assert.Contains(t, problems.Error(), "wide.xlsx: Members: row 2 has more than 200 columns")

	var bomb bytes.Buffer
	z := zip.NewWriter(&bomb)
	part, err := z.Create("xl/worksheets/sheet1.xml")
	require.NoError(t, err)
	for range mostUnzip>>20 + 1 {
		_, err = part.Write(make([]byte, 1<<20))
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	require.Less(t, bomb.Len(), 1<<20)
	_, problems = Read(bomb.Bytes(), "bomb.xlsx", Options{})
	assert.Contains(t, problems.Error(), "bomb.xlsx: this is no spreadsheet that can be read")
}

func TestADamagedLargePartLeavesNoFileBehind(t *testing.T) {
	temp := t.TempDir()
	t.Setenv("TMPDIR", temp)
	var damaged bytes.Buffer
	z := zip.NewWriter(&damaged)
	part, err := z.CreateRaw(&zip.FileHeader{Name: "xl/worksheets/sheet1.xml", Method: zip.Deflate,
		CompressedSize64: 7, UncompressedSize64: mostPart + 1})
	require.NoError(t, err)
	_, err = part.Write([]byte("no flow"))
	require.NoError(t, err)
	require.NoError(t, z.Close())
	_, problems := Read(damaged.Bytes(), "damaged.xlsx", Options{})
	assert.Contains(t, problems.Error(), "damaged.xlsx: this is no spreadsheet that can be read")
	left, err := os.ReadDir(temp)
	require.NoError(t, err)
	assert.Empty(t, left)
}
