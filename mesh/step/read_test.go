package step_test

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"wheelmold/mesh/step"
)

// wrap puts entities into a file.
func wrap(data string) string {
	return "ISO-10303-21;\nHEADER;\nFILE_NAME('');\nENDSEC;\nDATA;\n" + data + "\nENDSEC;\nEND-ISO-10303-21;\n"
}

func TestRead(t *testing.T) {
	f, err := step.Read(strings.NewReader(wrap(`#2 = POINT_X ( 'it''s' , ( 1. , -2.5E-3 , +7 ) , $, *, .T. ) ;
		/* a ' comment; */ #1=(A(#2)B_2()C(LENGTH_MEASURE(1.E-05)));#10=D('\X2\00E4\X0\\\\X4\0001F6DE\X0\',());`)))
	if err != nil {
		t.Fatal(err)
	}
	want := map[int]step.Entity{
		2: {{"POINT_X", []step.Param{
			{Kind: step.Text, Text: "it's"},
			{Kind: step.List, List: []step.Param{{Kind: step.Real, Number: 1}, {Kind: step.Real, Number: -.0025}, {Kind: step.Integer, Number: 7}}},
			{Kind: step.Absent}, {Kind: step.Derived}, {Kind: step.Enum, Text: "T"},
		}}},
		1: {{"A", []step.Param{{Kind: step.Ref, Number: 2}}}, {"B_2", nil},
			{"C", []step.Param{{Kind: step.Typed, Text: "LENGTH_MEASURE", List: []step.Param{{Kind: step.Real, Number: 1e-5}}}}}},
		10: {{"D", []step.Param{{Kind: step.Text, Text: "ä\\🛞"}, {Kind: step.List}}}},
	}
	if !reflect.DeepEqual(f.Entities, want) || !reflect.DeepEqual(f.Order, []int{2, 1, 10}) {
		t.Errorf("got %v in the order %v", f.Entities, f.Order)
	}
	if s := f.Entities[1].Type(); s != "A B_2 C" {
		t.Errorf("type %s", s)
	}
}

func TestReadRefuses(t *testing.T) {
	deep := strings.Repeat("(", 40) + strings.Repeat(")", 40)
	for what, src := range map[string]string{
		"nothing":              "",
		"no data":              "ISO-10303-21;\nHEADER;\nENDSEC;\n",
		"a tail":               wrap("#1=A();") + "x",
		"one number twice":     wrap("#1=A();#1=A();"),
		"a lost reference":     wrap("#1=A(#2);"),
		"one in a list":        wrap("#1=A((B(#2)));"),
		"number 0":             wrap("#0=A();"),
		"a huge number":        wrap("#99999999999=A();"),
		"no end of a string":   wrap("#1=A('x);"),
		"no end of a comment":  wrap("#1=A(/*);"),
		"no end of a code":     wrap(`#1=A('\X2\0041');`),
		"half a code":          wrap(`#1=A('\X2\004\X0\');`),
		"a surrogate":          wrap(`#1=A('\X2\D800\X0\');`),
		"a lone backslash":     wrap(`#1=A('a\b');`),
		"a letter not in code": wrap("#1=A('ä');"),
		"no digits":            wrap("#1=A(-);"),
		"no exponent":          wrap("#1=A(1.E);"),
		"an exponent alone":    wrap("#1=A(1E5);"),
		"infinity":             wrap("#1=A(1.E999);"),
		"an open enumeration":  wrap("#1=A(.T);"),
		"an empty one":         wrap("#1=A(..);"),
		"no comma":             wrap("#1=A(1 2);"),
		"a comma too many":     wrap("#1=A(1,);"),
		"no semicolon":         wrap("#1=A()"),
		"small letters":        wrap("#1=a();"),
		"deep lists":           wrap("#1=A" + deep + ";"),
		"an empty complex":     wrap("#1=();"),
	} {
		if _, err := step.Read(strings.NewReader(src)); err == nil || !strings.HasPrefix(err.Error(), "step: line ") {
			t.Errorf("%s: %v", what, err)
		}
	}
	many := wrap("#1=A(" + strings.Repeat("$,", 3<<20) + "$);")
	if _, err := step.Read(strings.NewReader(many)); err == nil {
		t.Error("millions of values are taken")
	}
	if _, err := step.Read(strings.NewReader(strings.Repeat(" ", 33<<20))); err == nil {
		t.Error("a file without end is taken")
	}
}

// FuzzRead: whatever is read, Read ends without a panic, and what it takes it takes
// again.
func FuzzRead(f *testing.F) {
	for _, s := range shapes()[:4] {
		f.Add(written(f, step.Part{Name: s.name, Solid: regions(f, s.build)}, named))
	}
	f.Add([]byte(wrap(`#1=(A(.T.,'\X2\00E4\X0\')B($,*,(1,-1.E5)));/**/`)))
	f.Fuzz(func(t *testing.T, src []byte) {
		a, err := step.Read(bytes.NewReader(src))
		if err != nil {
			return
		}
		b, err := step.Read(bytes.NewReader(src))
		if err != nil || !reflect.DeepEqual(a, b) {
			t.Errorf("reads otherwise a second time: %v", err)
		}
		if len(a.Order) != len(a.Entities) {
			t.Errorf("%d entities in order, %d by number", len(a.Order), len(a.Entities))
		}
	})
}
