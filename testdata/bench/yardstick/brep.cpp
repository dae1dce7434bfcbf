// A yardstick: the solids of the bench by B-rep booleans and a mesh of the result (OCCT).
//
//   brep PROGRAM TOLERANCE RUNS OUT
//
// PROGRAM is what writeProgram says. Prints the seconds of every run, the first one cold,
// and writes the triangles of the last as float64. Booleans and mesher run in parallel.
#include <BRepAlgoAPI_Common.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <BRep_Tool.hxx>
#include <Poly_Triangulation.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>
#include <gp_Ax1.hxx>
#include <gp_Ax2.hxx>
#include <gp_Ax3.hxx>
#include <gp_Circ.hxx>
#include <gp_Trsf.hxx>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <fstream>
#include <iostream>
#include <iterator>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

namespace {

// Outlines lie in the plane x, y where they are extruded, and x, z where they are revolved.
gp_Pnt at(bool revolved, double a, double b) { return revolved ? gp_Pnt(a, 0, b) : gp_Pnt(a, b, 0); }

TopoDS_Wire outline(std::istream &in, bool revolved) {
	std::string word;
	int count;
	in >> word >> count;
	BRepBuilderAPI_MakeWire wire;
	for (int i = 0; i < count; i++) {
		double ax, ay, bx, by;
		in >> word >> ax >> ay >> bx >> by;
		gp_Pnt a = at(revolved, ax, ay), b = at(revolved, bx, by);
		if (word == "line") {
			wire.Add(BRepBuilderAPI_MakeEdge(a, b).Edge());
			continue;
		}
		double cx, cy, r, t0, t1;
		in >> cx >> cy >> r >> t0 >> t1;
		// Seen so that the outline's second axis lies 90 degrees on from its first.
		gp_Dir axis = revolved ? gp_Dir(0, -1, 0) : gp_Dir(0, 0, 1);
		if (t1 < t0) axis.Reverse();
		gp_Circ circle(gp_Ax2(at(revolved, cx, cy), axis), r);
		wire.Add(BRepBuilderAPI_MakeEdge(circle, a, b).Edge());
	}
	return wire.Wire();
}

TopoDS_Shape sweep(const TopoDS_Wire &wire, bool revolved, double z0, double z1) {
	TopoDS_Face face = BRepBuilderAPI_MakeFace(wire, true).Face();
	if (revolved) return BRepPrimAPI_MakeRevol(face, gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1))).Shape();
	gp_Trsf up;
	up.SetTranslation(gp_Vec(0, 0, z0));
	return BRepPrimAPI_MakePrism(BRepBuilderAPI_Transform(face, up).Shape(), gp_Vec(0, 0, z1 - z0)).Shape();
}

// join applies an operation to the first shape and the others.
template <class Operation> TopoDS_Shape join(const TopoDS_Shape &first, const TopTools_ListOfShape &others) {
	TopTools_ListOfShape arguments;
	arguments.Append(first);
	Operation o;
	o.SetArguments(arguments);
	o.SetTools(others);
	o.SetRunParallel(true);
	o.Build();
	if (o.HasErrors()) throw std::runtime_error("a boolean failed");
	return o.Shape();
}

TopoDS_Shape leaf(std::istream &in) {
	std::string kind;
	double z0, z1, f[12];
	int outlines;
	in >> kind >> z0 >> z1;
	for (double &x : f) in >> x;
	in >> outlines;
	bool revolved = kind == "revolve";
	// An outline inside another is a hole of it; the program's leaves have them side by side.
	TopoDS_Shape shape;
	for (int i = 0; i < outlines; i++) {
		TopoDS_Shape next = sweep(outline(in, revolved), revolved, z0, z1);
		if (i == 0) {
			shape = next;
			continue;
		}
		TopTools_ListOfShape one;
		one.Append(next);
		shape = join<BRepAlgoAPI_Fuse>(shape, one);
	}
	gp_Trsf place;
	place.SetDisplacement(gp_Ax3(), gp_Ax3(gp_Pnt(f[0], f[1], f[2]), gp_Dir(f[9], f[10], f[11]), gp_Dir(f[3], f[4], f[5])));
	return BRepBuilderAPI_Transform(shape, place, true).Shape();
}

TopoDS_Shape solid(const std::string &program) {
	std::istringstream in(program);
	std::vector<TopoDS_Shape> stack;
	std::string word;
	while (in >> word) {
		if (word == "leaf") {
			stack.push_back(leaf(in));
			continue;
		}
		size_t count;
		in >> count;
		std::vector<TopoDS_Shape> kids(stack.end() - count, stack.end());
		stack.resize(stack.size() - count);
		TopoDS_Shape shape = kids[0];
		TopTools_ListOfShape others;
		for (size_t i = 1; i < count; i++) {
			others.Append(kids[i]);
			if (word == "intersect") { // tools are joined before they meet the argument
				shape = join<BRepAlgoAPI_Common>(shape, others);
				others.Clear();
			}
		}
		if (!others.IsEmpty()) shape = word == "union" ? join<BRepAlgoAPI_Fuse>(shape, others) : join<BRepAlgoAPI_Cut>(shape, others);
		stack.push_back(shape);
	}
	return stack.at(0);
}

std::vector<double> triangles(const TopoDS_Shape &shape) {
	std::vector<double> out;
	for (TopExp_Explorer e(shape, TopAbs_FACE); e.More(); e.Next()) {
		TopoDS_Face face = TopoDS::Face(e.Current());
		TopLoc_Location place;
		auto mesh = BRep_Tool::Triangulation(face, place);
		if (mesh.IsNull()) throw std::runtime_error("a face without a mesh");
		for (int i = 1; i <= mesh->NbTriangles(); i++) {
			int v[3];
			mesh->Triangle(i).Get(v[0], v[1], v[2]);
			if (face.Orientation() == TopAbs_REVERSED) std::swap(v[1], v[2]);
			for (int k : v) {
				gp_Pnt p = mesh->Node(k).Transformed(place.Transformation());
				out.insert(out.end(), {p.X(), p.Y(), p.Z()});
			}
		}
	}
	return out;
}

} // namespace

int main(int argc, char **argv) try {
	if (argc != 5) throw std::runtime_error("usage: brep PROGRAM TOLERANCE RUNS OUT");
	std::ifstream file(argv[1]);
	std::string program((std::istreambuf_iterator<char>(file)), {});
	std::vector<double> mesh;
	for (int i = 0; i < std::stoi(argv[3]); i++) {
		auto start = std::chrono::steady_clock::now();
		TopoDS_Shape shape = solid(program);
		BRepMesh_IncrementalMesh(shape, std::stod(argv[2]), false, 0.5, true);
		mesh = triangles(shape);
		std::printf("%.6f\n", std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
	}
	std::ofstream out(argv[4], std::ios::binary);
	out.write(reinterpret_cast<const char *>(mesh.data()), mesh.size() * sizeof(double));
	if (!out.flush()) throw std::runtime_error("the mesh cannot be written");
} catch (const std::exception &e) {
	std::fprintf(stderr, "brep: %s\n", e.what());
	return 1;
} catch (const Standard_Failure &e) {
	std::fprintf(stderr, "brep: %s\n", e.GetMessageString());
	return 1;
}
