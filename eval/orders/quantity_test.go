package orders

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// A column that says how often orders are made, and that the design doesn't read, is
// told: whether it declares none, or one that the table doesn't have.
func TestQuantityUnread(t *testing.T) {
	one := Column{Name: "copies", Kind: counts("").Kind, Default: &Cell{Number: 1}}
	three := Column{Name: "copies", Kind: counts("").Kind, Default: &Cell{Number: 3}}
	for _, test := range []struct {
		table   string
		columns []Column
		want    string
	}{
		{"name,Quantity\nAda,2\n", []Column{text("name")}, "each order is made once"},
		{"name,Quantity\nAda,2\n", []Column{text("name"), one}, "each order is made once"},
		{"name,Quantity\nAda,2\n", []Column{text("name"), three}, "each order is made 3 times"},
		{"name,Qty (item) #\nAda,many\n", []Column{text("name"), one}, `copies = count from "Qty (item) #" default 1`},
		{"name,Anzahl\nAda,2\n", []Column{text("name"), one}, "made once"}, {"name,Qté\nAda,2\n", []Column{text("name"), one}, "made once"},
		{"name,Кол-во\nAda,2\n", []Column{text("name"), one}, "made once"}, {"name,数量\nAda,2\n", []Column{text("name"), one}, "made once"},
		{"name,Number of items\nAda,2\n", []Column{text("name"), one}, "made once"}, {"name,Stück\nAda,2\nBo,\n", []Column{text("name"), one}, "made once"},
		{"name,Pcs\nAda,2\n", []Column{text("name")}, "made once"}, {"name,Units\nAda,2\n", []Column{text("name")}, "made once"},
		{"name,Ordered\nAda,2\n", []Column{text("name")}, "made once"}, {"name,Amount\nAda,2\nBo,1\n", []Column{text("name")}, "made once"},
		{"name,Amount,Qty\nAda,2,3\n", []Column{text("name")}, `from "Qty"`},
		{"name,Pcs\nAda,3\nBo,2.0\n", []Column{text("name")}, "made once"}, // as a count is read
		// Headings that leave it open, over values that don't look like it.
		{"name,Amount\nAda,12.50\n", []Column{text("name"), one}, ""}, {"name,Ordered\nAda,2026-03-01\n", []Column{text("name")}, ""},
		{"name,Units\nAda,mm\n", []Column{text("name")}, ""}, {"name,Items\nAda,Tern\n", []Column{text("name")}, ""}, {"name,Amount\nAda,4500\n", []Column{text("name")}, ""},
		{"name,Count\nAda,\n", []Column{text("name")}, ""},
		// It is read, or another one is.
		{"name,Quantity,copies\nAda,2,2\n", []Column{text("name"), one}, ""}, {"name,Units\nAda,2\n", []Column{text("name"), counts("units")}, ""},
		{"name,Kolor\nAda,2\n", []Column{text("name"), one}, ""},
	} {
		_, diags := Read("orders.csv", []byte(test.table), Options{Columns: test.columns})
		got := told(diags)
		if !strings.Contains(got, test.want) || test.want == "" && got != "" {
			t.Errorf("%q: told %q, want %q", test.table, got, test.want)
		}
	}
}

// A header once more is no order, and a sum at the end is told.
func TestRowsThatAreNoOrders(t *testing.T) {
	table, diags := Read("orders.csv", []byte("name,copies\nAda,2\nName,Copies\nBo,1\nname,copies\nTotal,2\nname,copies\n"), Options{Columns: []Column{text("name"), counts("copies")}})
	if len(table.Rows) != 3 || !strings.Contains(told(diags), "orders.csv:3:1: note: this row and 2 more are the header once more, and are passed over") {
		t.Errorf("%d rows, told %s", len(table.Rows), told(diags))
	}
	if table, diags := Read("orders.csv", []byte("name\nName\n"), Options{Columns: []Column{text("name")}}); table != nil || !strings.Contains(told(diags), "the header once more") || !strings.Contains(told(diags), "no order in this table") {
		t.Errorf("of a header and itself: told %s", told(diags))
	}
	for _, test := range []struct {
		last string
		sum  bool
	}{{"Total,3", true}, {" grand total: ,3", true}, {"Sum,3", true}, {"Total: 3,", true}, {"Total for June,3", true}, {"Total Bo,3", true},
		{"Sum of all,3", true}, {"SUM TOTAL,3", true}, {"Summe aller,3", true}, {"Sub-total,3", true}, {"12 Totals,3", true}, {"Suma Rao,3", false}, {"Sub Rosa,3", false}, {"Summer,3", false}, {"Totally,3", false}, {"Ada,3", false}} {
		table, _ := Read("orders.csv", []byte("name,copies\nTotal,2\nBo,1\n"+test.last+"\n\n"), Options{Columns: []Column{text("name"), counts("copies")}})
		if got := len(table.Rows[2].Problems) > 0; got != test.sum || len(table.Rows[0].Problems) > 0 {
			t.Errorf("%q: told %s", test.last, told(append(table.Rows[0].Problems, table.Rows[2].Problems...)))
		}
	}
}

// Each of the last rows that begins with a word for a sum is told, made or not.
func TestSumsAtTheEnd(t *testing.T) {
	for _, test := range []struct{ rows, want string }{
		{"1,Ada\n2,Total\nTotal,Bo", "--t"}, {"1,Ada\nSubtotal,x\nTotal,y", "-tt"}, {"1,Ada\nSubtotal,\n\nTotal: 1,", "-tt"}, {"Total: 1,x\n1,Ada\nTotal: 1,", "--t"},
		{"1,Ada\nSubtotal,x\n\"2\",\"Bo\" b\nTotal,y", "---t"}, {"1,Ada\nSubtotal,x\n2,Bo", "---"}, {"1,Ada\nSummer,x\nTotals,x", "--t"}, {"Total,x", "t"}, {"1,Ada\nSumme,x\nInsgesamt,y", "-tt"}, {"1,Ada\nTotal,x\nSum of all,y", "-tt"},
	} {
		table, diags := Read("orders.csv", []byte("number,name\n"+test.rows+"\n"), Options{Columns: []Column{text("number"), text("name")}})
		if table == nil {
			t.Fatal(told(diags))
		}
		got := ""
		for _, row := range table.Rows {
			sign := "-"
			for _, p := range row.Problems {
				if p.Code == "total-row" {
					sign = "t"
					if row.OK() != strings.Contains(p.Message, "is made as an order") || strings.Contains(p.Message, "those above it") != (len(table.Rows) > 1) {
						t.Errorf("%q: %s", test.rows, p.Message)
					}
				}
			}
			got += sign
		}
		if got != test.want {
			t.Errorf("%q: told %s, want %s", test.rows, got, test.want)
		}
	}
}

// So are headings, which a program writes that writes all values so, the first row that has them once more, too.
func TestHeadingsInFormulas(t *testing.T) {
	for _, heading := range []string{`="Name",="copies"`, `name,="Copies"`, `"=""Name""","=""copies"""`} {
		table, diags := Read("orders.csv", []byte(heading+"\n=\"Ann\",=\"2\"\n"+heading+"\nBo,1\n"), Options{Columns: []Column{text("name"), counts("copies")}})
		if table == nil || len(table.Rows) != 2 || !strings.Contains(told(diags), "formulas, as do 1 more") {
			t.Errorf("%s: %s", heading, told(diags))
			continue
		}
		if a, b := &table.Rows[0], &table.Rows[1]; a.Line != 2 || a.Cells[0].Text != "Ann" || table.Copies(0) != 2 || b.Line != 4 || b.Cells[0].Text != "Bo" {
			t.Errorf("%s: got %v and %v", heading, a, b)
		}
	}
}

// Values in formulas, as programs write them for spreadsheets, are the texts in them; the
// rows behind such a row are read as ever.
func TestValuesInFormulas(t *testing.T) {
	table, diags := Read("orders.csv", []byte("name,copies,note\n=\"Ann\",2\n\"Bo, of\nthe Mill\",1\n=\"0012\",=\"3\"\nA \"B\" C,1\n=\"Di\" x,1\n\"=\"\"El\"\"\",4\n=\"Fay, Guy\",1\n\"=\"\"Fay, Guy\"\"\",1\n\"=\"\"Hal\nIda\"\"\",1\n=\"0013\",2,\"a,\nb\"\n\"Jo\nKit\",=\"1\"\n=\"Lee,1\n"), Options{Columns: []Column{text("name"), counts("copies")}})
	var got []string
	for i := range table.Rows {
		row := &table.Rows[i]
		if row.OK() {
			got = append(got, fmt.Sprintf("%d %s %d", row.Line, row.Cells[0].Text, table.Copies(i)))
		} else {
			got = append(got, fmt.Sprintf("%d %s", row.Line, row.Problems[0].Code))
		}
	}
	if want := []string{"2 Ann 2", "3 Bo, of\nthe Mill 1", "5 0012 3", "6 quotes", "7 quotes", "8 El 4", "9 Fay, Guy 1", "10 Fay, Guy 1", "11 Hal\nIda 1", "13 0013 2", "15 Jo\nKit 1", "17 quotes"}; !slices.Equal(got, want) {
		t.Errorf("read %q, want %q", got, want)
	}
	if !strings.Contains(told(diags), "orders.csv:2:1: note: values of this row stand in formulas, as do 7 more") {
		t.Errorf("told %s", told(diags))
	}
}
