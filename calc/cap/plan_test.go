package cap

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestFourAnticlockwise(t *testing.T) {
	out, err := Plan(PlanIn{Cylinders: 4, FiringOrder: []int{1, 3, 4, 2}, Rotation: "anticlockwise",
		FirstPostClock: 7.5})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []struct {
		clock    float64
		cylinder int
	}{{7.5, 1}, {4.5, 3}, {1.5, 4}, {10.5, 2}} {
		if p := out.Posts[i]; math.Abs(p.Clock-want.clock) > 1e-9 || p.Cylinder != want.cylinder || p.Flash != i+1 {
			t.Errorf("post %d: %+v, want %+v", i, p, want)
		}
	}
	if !reflect.DeepEqual(out.Pairs, [][]int{{1, 4}, {2, 3}}) &&
		!reflect.DeepEqual(out.Pairs, [][]int{{1, 4}, {3, 2}}) {
		t.Errorf("pairs %v", out.Pairs)
	}
	if out.Posts[0].Say != "half past 7" {
		t.Error(out.Posts[0].Say)
	}
}

// TestV8 is the invented V8: Nos 5 and 7 are neighbours firing in succession.
func TestV8(t *testing.T) {
	in := PlanIn{Cylinders: 8, FiringOrder: []int{1, 8, 4, 3, 6, 5, 7, 2}, Rotation: "clockwise", FirstPostClock: 12,
		Banks: [][]int{{1, 3, 5, 7}, {2, 4, 6, 8}}, GearTeeth: 13}
	out, err := Plan(in)
	if err != nil {
		t.Fatal(err)
	}
	if len(out.Neighbours) != 1 || out.Neighbours[0].First != 5 || out.Neighbours[0].Second != 7 {
		t.Errorf("neighbours %+v", out.Neighbours)
	}
	if !reflect.DeepEqual(out.Pairs, [][]int{{1, 6}, {5, 8}, {4, 7}, {2, 3}}) {
		t.Errorf("pairs %v", out.Pairs)
	}
	if math.Abs(*out.ToothDistDeg-27.69) > 0.005 || math.Abs(*out.ToothCrank-55.4) > 0.05 {
		t.Errorf("one tooth of 13: %v distributor, %v crank degrees", *out.ToothDistDeg, *out.ToothCrank)
	}
	if p := out.Posts[1]; p.Clock != 1.5 || p.Cylinder != 8 {
		t.Errorf("second post %+v", p)
	}
}

func TestOrdersThatAreNone(t *testing.T) {
	for order, says := range map[*[]int]string{
		{1, 3, 4}: "names 3", {1, 3, 3, 2}: "twice", {1, 3, 5, 2}: "no cylinder 5", {3, 4, 2, 1}: "begins with",
	} {
		_, err := Plan(PlanIn{Cylinders: 4, FiringOrder: *order, Rotation: "clockwise"})
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%v: %v", *order, err)
		}
	}
	if _, err := Plan(PlanIn{Cylinders: 4, FiringOrder: []int{1, 3, 4, 2}, Rotation: "clockwise",
		Banks: [][]int{{1, 2, 2}}}); err == nil {
		t.Error("a bank with a cylinder twice was accepted")
	}
}

// TestPostsGoRoundOnce: any order gives each cylinder one post, evenly apart
// in the direction of turning, and the mirror image for the other direction.
func TestPostsGoRoundOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "n")
		order := []int{1}
		if n > 1 {
			rest := make([]int, n-1)
			for i := range rest {
				rest[i] = i + 2
			}
			order = append(order, rapid.Permutation(rest).Draw(t, "order")...)
		}
		first := rapid.Float64Range(0, 12).Draw(t, "first")
		cw, err := Plan(PlanIn{Cylinders: n, FiringOrder: order, Rotation: "clockwise", FirstPostClock: first})
		if err != nil {
			t.Fatal(err)
		}
		ccw, _ := Plan(PlanIn{Cylinders: n, FiringOrder: order, Rotation: "anticlockwise", FirstPostClock: first})
		for i, p := range cw.Posts {
			want := math.Mod(first*30+float64(i)*360/float64(n), 360)
			if d := math.Abs(math.Remainder(p.AngleDeg-want, 360)); d > 1e-6 {
				t.Fatalf("post %d at %v°, want %v°", i, p.AngleDeg, want)
			}
			if d := math.Abs(math.Remainder(p.AngleDeg+ccw.Posts[i].AngleDeg-2*first*30, 360)); d > 1e-6 {
				t.Fatalf("post %d is no mirror image: %v°", i, d)
			}
			if p.Clock <= 0 || p.Clock > 12 {
				t.Fatalf("clock %v", p.Clock)
			}
		}
		for _, pair := range cw.Pairs {
			if pair[0] == pair[1] {
				t.Fatalf("pair %v", pair)
			}
		}
	})
}
