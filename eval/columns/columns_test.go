package columns_test

import (
	"strings"
	"testing"

	"foredge/eval/columns"
	"foredge/eval/evaltest"
	"foredge/eval/orders"
	"foredge/eval/resolve"
	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
	"foredge/lang/parse"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// read reads the table that a design in a folder names.
func read(design string, files evaltest.Files, instead *columns.File) (*orders.Table, diag.List) {
	tree, _ := parse.File(source.New("gifts/test.fore", []byte(design)))
	info, _ := resolve.Resolve(tree, files)
	return columns.Read(info.Orders, info.ColumnsUsed(), files, instead)
}

const declared = `units in
orders "orders.csv" {
  name   = text default "nobody"
  copies = count default 2
  wide   = length default 4
  deep   = length default 5 mm
  turn   = angle default 90 deg
  share  = ratio default 80 %
}
`

// Each column has the kind that its word says, and its default in mm, degrees or
// as a plain number: a bare length is in the unit of the design's file.
func TestColumns(t *testing.T) {
	table, diags := read(declared, evaltest.Files{"orders.csv": "name,copies,wide,deep,turn,share,room\n,,,,,,loft\nAda,3,1 1/2,2 cm,45,0.5,shop\n"}, nil)
	if len(diags) > 0 || table == nil || len(table.Rows) != 2 {
		t.Fatalf("%+v\n%s", table, diagtest.Text(diags))
	}
	if table.File.Name() != "gifts/orders.csv" {
		t.Errorf("messages call the table %s", table.File.Name())
	}
	for _, c := range []struct {
		name            string
		kind            unit.Kind
		standard, first float64
	}{
		{"copies", unit.Count, 2, 3}, {"wide", unit.Length, 101.6, 38.1}, {"deep", unit.Length, 5, 20},
		{"turn", unit.Angle, 90, 45}, {"share", unit.Ratio, 0.8, 0.5},
	} {
		i := table.Column(c.name)
		if i < 0 || table.Columns[i].Kind != c.kind {
			t.Errorf("column %s is %d of %+v", c.name, i, table.Columns)
			continue
		}
		for row, want := range []float64{c.standard, c.first} {
			if got := table.Rows[row].Cells[i].Number; got-want > 1e-9 || want-got > 1e-9 {
				t.Errorf("%s of row %d is %v, want %v", c.name, row, got, want)
			}
		}
	}
	if got := table.Rows[0].Cells[0].Text + " and " + table.Rows[1].Cells[0].Text; got != "nobody and Ada" {
		t.Errorf("names: %s", got)
	}
}

// A count can be 0 by default.
func TestNoneByDefault(t *testing.T) {
	table, diags := read(`orders "o.csv" { name = text; pins = count default 0 }`, evaltest.Files{"o.csv": "name\nBo\n"}, nil)
	if table == nil || len(diags) > 0 || table.Rows[0].Cells[1].Number != 0 || !table.Rows[0].OK() {
		t.Errorf("%+v\n%s", table, diagtest.Text(diags))
	}
}

// Another table takes the place of the one that is named, and that is not read.
func TestInstead(t *testing.T) {
	table, diags := read(declared, nil, &columns.File{Name: "late.csv", Data: []byte("name\nBo\n")})
	if table == nil || diags.HasErrors() || table.File.Name() != "late.csv" || table.Label(0) != "Bo" {
		t.Errorf("%+v\n%s", table, diagtest.Text(diags))
	}
}

// The declared encoding is that of the table.
func TestEncoding(t *testing.T) {
	table, diags := read(`orders "o.csv" { name = text; encoding = "windows-1252" }`, evaltest.Files{"o.csv": "name\nZo\xeb\n"}, nil)
	if table == nil || len(diags) > 0 || table.Label(0) != "Zoë" {
		t.Errorf("%+v\n%s", table, diagtest.Text(diags))
	}
}

// What is declared wrongly is reported in the design, and nothing is read.
func TestFaults(t *testing.T) {
	for _, c := range []struct{ body, code, message, at string }{
		{`name = txet`, "column-kind", `a column can't hold "txet"`, "txet"},
		{`name = colour`, "column-kind", `a column can't hold "colour"`, "colour"},
		{`name = text; number = length`, "column-kind", "the orders' own numbers are texts or counts, not lengths", "length"},
		{`number = ratio; name = text`, "column-kind", "not ratios", "ratio"},
		{`name = text default 3`, "kind-mismatch", "the column name holds text, so its default can't be 3", "3"},
		{`copies = count default 1.5`, "kind-mismatch", "so its default can't be 1.5", "1.5"},
		{`copies = count default -1`, "kind-mismatch", "so its default can't be -1", "-1"},
		{`wide = length default 5 deg`, "kind-mismatch", "so its default can't be 5 deg", "5 deg"},
		{`wide = length default "5"`, "kind-mismatch", `so its default can't be "5"`, `"5"`},
		{`name = text; encoding = "windows-9000"`, "unknown-encoding", `there is no encoding called "windows-9000"`, `"windows-9000"`},
	} {
		table, diags := read(`orders "orders.csv" { `+c.body+` }`, evaltest.Files{"orders.csv": "name\nAda\n"}, nil)
		if table != nil || len(diags) != 1 || string(diags[0].Code) != c.code || !strings.Contains(diags[0].Message, c.message) ||
			diags[0].Span.Text() != c.at || diags[0].Help == "" {
			t.Errorf("%s: want %s with %q at %q, got\n%s", c.body, c.code, c.message, c.at, diagtest.Text(diags))
		}
	}
	if table, diags := read(declared, nil, nil); table != nil || len(diags) != 1 || diags[0].Code != "file" {
		t.Errorf("a table that isn't there: %s", diagtest.Text(diags))
	}
}
