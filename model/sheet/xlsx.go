package sheet

import (
	"io"
	"strconv"

	"github.com/xuri/excelize/v2"
)

// WriteXLSX writes tables as the sheets of one workbook; the last row of each is the caution. Figures are figures,
// whole as the document has them; headings stay in sight.
func WriteXLSX(w io.Writer, tables []Table, caution string) (err error) {
	f := excelize.NewFile()
	defer func() {
		if closed := f.Close(); err == nil {
			err = closed
		}
	}()
	bold, err := f.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}})
	if err != nil {
		return err
	}
	for i := range tables {
		name := tables[i].Name
		if i == 0 {
			err = f.SetSheetName("Sheet1", name)
		} else {
			_, err = f.NewSheet(name)
		}
		if err != nil {
			return err
		}
		if err := writeSheet(f, &tables[i], bold, caution); err != nil {
			return err
		}
	}
	return f.Write(w)
}

func writeSheet(f *excelize.File, t *Table, bold int, caution string) error {
	out, err := f.NewStreamWriter(t.Name)
	if err != nil {
		return err
	}
	for i, c := range t.Columns {
		if err := out.SetColWidth(i+1, i+1, c.Width); err != nil {
			return err
		}
	}
	if err := out.SetPanes(&excelize.Panes{Freeze: true, XSplit: 1, YSplit: 1, TopLeftCell: "B2", ActivePane: "bottomRight"}); err != nil {
		return err
	}
	row := make([]any, len(t.Columns))
	for i, c := range t.Columns {
		row[i] = excelize.Cell{StyleID: bold, Value: c.Heading()}
	}
	if err := out.SetRow("A1", row); err != nil {
		return err
	}
	for n, cells := range t.Rows {
		for i, c := range cells {
			row[i] = plain(c)
		}
		if err := out.SetRow("A"+strconv.Itoa(n+2), row); err != nil {
			return err
		}
	}
	if caution != "" {
		if err := out.SetRow("A"+strconv.Itoa(len(t.Rows)+3), []any{remark + caution}); err != nil {
			return err
		}
	}
	return out.Flush()
}

// plain is a cell as a spreadsheet holds it.
func plain(c Cell) any {
	switch {
	case c.Text == "":
		return nil
	case c.Figure:
		if v, err := strconv.ParseFloat(c.Text, 64); err == nil {
			return v
		}
	case c.Truth:
		return c.Text == "TRUE"
	}
	return c.Text
}
