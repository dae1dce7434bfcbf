// Judges STEP files with Open CASCADE: what another modeller makes of them.
//
//   stepcheck EXPECTED FILE...
//   stepcheck --strict FOLDER EXPECTED FILE...
//
// EXPECTED lists what files hold, one a line, its fields apart by tabs: the file's name
// without its folder, its volume in mm³, how many planes, cylinders, cones, spheres, tori
// and surfaces of revolution its faces are, and the names of its parts. With - in its
// place nothing is known of a file but that assembly.step has more than one part and any
// other file one.
//
// The reader repairs much in silence. FOLDER holds a file STEP of its settings that turns
// repairs off: with it the file is judged as it is.
//
// Each file must be read without a word, and hold as many solids as it has parts, valid,
// with closed shells whose edges are used once each way, a volume as expected within
// 1e-6 of it, and no tolerance above 1e-4 mm; every face must have a name and a color.
// Several parts must be an assembly in which none is moved.
//
// Prints a line per file; exits with 1 if one is faulty, 2 if it cannot judge.

#include <BRepAdaptor_Surface.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepCheck_ListOfStatus.hxx>
#include <BRepCheck_Result.hxx>
#include <BRepGProp.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <Interface_Check.hxx>
#include <Interface_CheckIterator.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_PrinterOStream.hxx>
#include <Quantity_Color.hxx>
#include <STEPCAFControl_Reader.hxx>
#include <ShapeAnalysis_ShapeTolerance.hxx>
#include <Standard_Failure.hxx>
#include <TDF_LabelSequence.hxx>
#include <TDataStd_Name.hxx>
#include <TDocStd_Document.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <Transfer_TransientProcess.hxx>
#include <XCAFApp_Application.hxx>
#include <XCAFDoc_ColorTool.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <XSControl_TransferReader.hxx>
#include <XSControl_WorkSession.hxx>
#include <gp_Trsf.hxx>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <iostream>
#include <map>
#include <set>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

// The reader integrates over its own curves in surface parameters: on a bare pin with a
// slanted end that is 5e-7 off, on a mold 3e-8.
const double volumeTol = 1e-6;
// Curves are written within 1e-6 mm of both faces. The reader adds its own.
const double largestTolerance = 1e-4;

const std::array<const char*, 7> kinds = {"planes", "cylinders", "cones", "spheres", "tori", "of revolution", "others"};

struct Expected {
  double volume;
  std::array<int, 7> faces{};
  std::vector<std::string> parts;
};

[[noreturn]] void fault(const std::string& what) { throw std::runtime_error(what); }

std::string number(double x) {
  std::ostringstream out;
  out.precision(12);
  out << x;
  return out.str();
}

std::string baseName(const std::string& path) { return path.substr(path.find_last_of('/') + 1); }

std::map<std::string, Expected> readExpected(const std::string& path) {
  std::map<std::string, Expected> all;
  std::ifstream in(path);
  for (std::string line; std::getline(in, line);) {
    std::istringstream fields(line);
    std::string name, field;
    Expected e;
    std::getline(fields, name, '\t');
    for (int i = -1; i < 6 && std::getline(fields, field, '\t'); i++)
      if (i < 0) e.volume = std::stod(field);
      else e.faces[i] = std::stoi(field);
    while (std::getline(fields, field, '\t')) e.parts.push_back(field);
    if (e.parts.empty()) throw std::invalid_argument(path + ": " + line);
    all[name] = e;
  }
  if (all.empty()) throw std::invalid_argument(path + ": nothing expected");
  return all;
}

// silent: the reader has nothing to say.
void silent(Interface_CheckIterator checks, const char* when) {
  for (checks.Start(); checks.More(); checks.Next()) {
    const Handle(Interface_Check) c = checks.Value();
    if (c->NbFails() > 0) fault(std::string(when) + ": #" + std::to_string(checks.Number()) + " " + c->CFail(1));
    if (c->NbWarnings() > 0) fault(std::string(when) + ": #" + std::to_string(checks.Number()) + " " + c->CWarning(1));
  }
}

// Read is what a file holds: its shape, and its products with names and colors.
struct Read {
  Handle(TDocStd_Document) document;
  TopoDS_Shape shape;
};

Read read(const std::string& path) {
  Read out;
  XCAFApp_Application::GetApplication()->NewDocument("MDTV-XCAF", out.document);
  STEPCAFControl_Reader reader;
  reader.SetColorMode(true);
  reader.SetNameMode(true);
  Interface_Static::SetIVal("read.stepcaf.subshapes.name", 1);
  if (reader.ReadFile(path.c_str()) != IFSelect_RetDone) fault("cannot be read");
  const Handle(XSControl_WorkSession) session = reader.Reader().WS();
  silent(session->ModelCheckList(), "reading");
  const int roots = reader.NbRootsForTransfer();
  if (roots != 1 || !reader.Transfer(out.document)) fault(std::to_string(roots) + " things in it, or not all taken over");
  silent(session->TransferReader()->TransientProcess()->CheckList(Standard_False), "taking over");
  out.shape = reader.Reader().OneShape();
  if (out.shape.IsNull()) fault("no shape");
  return out;
}

// closed: every edge of a solid once each way.
void closed(const TopoDS_Shape& solid) {
  for (TopExp_Explorer s(solid, TopAbs_SHELL); s.More(); s.Next())
    if (!BRep_Tool::IsClosed(s.Current())) fault("an open shell");
  TopTools_IndexedMapOfShape edges;
  TopExp::MapShapes(solid, TopAbs_EDGE, edges);
  std::vector<int> forward(edges.Extent() + 1), back(edges.Extent() + 1);
  for (TopExp_Explorer f(solid, TopAbs_FACE); f.More(); f.Next())
    for (TopExp_Explorer e(f.Current(), TopAbs_EDGE); e.More(); e.Next())
      (e.Current().Orientation() == TopAbs_FORWARD ? forward : back)[edges.FindIndex(e.Current())]++;
  for (int i = 1; i <= edges.Extent(); i++)
    if (!BRep_Tool::Degenerated(TopoDS::Edge(edges(i))) && (forward[i] != 1 || back[i] != 1))
      fault("an edge used " + std::to_string(forward[i]) + " times forward and " + std::to_string(back[i]) + " times back");
}

using Statuses = std::set<int>;

void add(Statuses& to, const BRepCheck_ListOfStatus& from) {
  for (BRepCheck_ListIteratorOfListOfStatus s(from); s.More(); s.Next())
    if (s.Value() != BRepCheck_NoError) to.insert(s.Value());
}

// statuses are what the checker has against a part of the shape, alone and in its faces.
Statuses statuses(const BRepCheck_Analyzer& checker, const TopoDS_Shape& part) {
  Statuses out;
  const Handle(BRepCheck_Result) r = checker.Result(part);
  if (r.IsNull()) return out;
  add(out, r->Status());
  for (r->InitContextIterator(); r->MoreShapeInContext(); r->NextShapeInContext()) add(out, r->StatusOnShape());
  return out;
}

// valid asks the checker. A torus's own seam around its outside cannot be turned away
// from a face in a STEP file; with repairs off the checker then finds holes of the face
// outside of its border, and nothing else: that is no fault of the file.
void valid(const TopoDS_Shape& shape, bool strict) {
  const BRepCheck_Analyzer checker(shape);
  if (checker.IsValid()) return;
  bool excused = false;
  for (TopAbs_ShapeEnum type : {TopAbs_SOLID, TopAbs_SHELL, TopAbs_FACE, TopAbs_WIRE, TopAbs_EDGE, TopAbs_VERTEX}) {
    TopTools_IndexedMapOfShape parts;
    TopExp::MapShapes(shape, type, parts);
    for (int i = 1; i <= parts.Extent(); i++) {
      const Statuses found = statuses(checker, parts(i));
      if (found.empty()) continue;
      const bool torus = type == TopAbs_FACE && BRepAdaptor_Surface(TopoDS::Face(parts(i)), Standard_False).GetType() == GeomAbs_Torus;
      if (!strict || !torus || found != Statuses{BRepCheck_InvalidImbricationOfWires})
        fault("invalid: status " + std::to_string(*found.begin()) + " of a part of type " + std::to_string(type));
      excused = true;
    }
  }
  if (!excused) fault("invalid, without a reason");
}

std::array<int, 7> countFaces(const TopoDS_Shape& shape) {
  std::array<int, 7> n{};
  for (TopExp_Explorer f(shape, TopAbs_FACE); f.More(); f.Next()) {
    switch (BRepAdaptor_Surface(TopoDS::Face(f.Current()), Standard_False).GetType()) {
      case GeomAbs_Plane: n[0]++; break;
      case GeomAbs_Cylinder: n[1]++; break;
      case GeomAbs_Cone: n[2]++; break;
      case GeomAbs_Sphere: n[3]++; break;
      case GeomAbs_Torus: n[4]++; break;
      case GeomAbs_SurfaceOfRevolution: n[5]++; break;
      default: n[6]++;
    }
  }
  return n;
}

std::string nameOf(const TDF_Label& label) {
  Handle(TDataStd_Name) name;
  if (!label.FindAttribute(TDataStd_Name::GetID(), name)) return "";
  std::string text(name->Get().LengthOfCString(), ' ');
  char* to = text.data();
  name->Get().ToUTF8CString(to);
  return text;
}

// product: a part's name, and a name and a color on each of its faces.
void product(const TDF_Label& label, const Handle(XCAFDoc_ShapeTool)& shapes, const Handle(XCAFDoc_ColorTool)& colors) {
  TDF_LabelSequence faces;
  shapes->GetSubShapes(label, faces);
  TopTools_IndexedMapOfShape all;
  TopExp::MapShapes(shapes->GetShape(label), TopAbs_FACE, all);
  int named = 0, colored = 0;
  for (const TDF_Label& f : faces) {
    Quantity_Color c;
    if (shapes->GetShape(f).ShapeType() != TopAbs_FACE) continue;
    named += !nameOf(f).empty();
    colored += colors->GetColor(f, XCAFDoc_ColorSurf, c);
  }
  if (named != all.Extent() || colored != all.Extent())
    fault(std::to_string(named) + " faces named and " + std::to_string(colored) + " colored of " + std::to_string(all.Extent()));
}

// moves: a part is not where its coordinates say.
bool moves(const gp_Trsf& t) {
  for (int row = 1; row <= 3; row++)
    for (int column = 1; column <= 4; column++)
      if (t.Value(row, column) != (row == column ? 1 : 0)) return true;
  return false;
}

// products judges names, colors and places, and returns the names of the parts.
std::vector<std::string> products(const Handle(TDocStd_Document)& doc) {
  const Handle(XCAFDoc_ShapeTool) shapes = XCAFDoc_DocumentTool::ShapeTool(doc->Main());
  const Handle(XCAFDoc_ColorTool) colors = XCAFDoc_DocumentTool::ColorTool(doc->Main());
  TDF_LabelSequence free;
  shapes->GetFreeShapes(free);
  if (free.Length() != 1) fault(std::to_string(free.Length()) + " products that belong to none");
  std::vector<std::string> names;
  const TDF_Label top = free.First();
  if (!shapes->IsAssembly(top)) {
    product(top, shapes, colors);
    names.push_back(nameOf(top));
  }
  TDF_LabelSequence components;
  if (shapes->IsAssembly(top)) shapes->GetComponents(top, components);
  for (const TDF_Label& c : components) {
    TDF_Label of;
    if (!shapes->GetReferredShape(c, of)) fault("a component of nothing");
    if (moves(shapes->GetLocation(c).Transformation())) fault(nameOf(c) + " is moved");
    if (nameOf(c) != nameOf(of)) fault(nameOf(c) + " stands for " + nameOf(of));
    product(of, shapes, colors);
    names.push_back(nameOf(of));
  }
  return names;
}

std::string joined(const std::vector<std::string>& names) {
  std::string out;
  for (const std::string& n : names) out += (out.empty() ? "" : ", ") + n;
  return out;
}

// asExpected compares what is left to compare once the file is known to be sound.
void asExpected(const Expected& e, const std::array<int, 7>& faces, double volume, const std::vector<std::string>& parts) {
  if (parts != e.parts) fault("parts " + joined(parts) + ", want " + joined(e.parts));
  for (size_t i = 0; i < kinds.size(); i++)
    if (faces[i] != e.faces[i]) fault(std::to_string(faces[i]) + " " + kinds[i] + ", want " + std::to_string(e.faces[i]));
  if (!(std::abs(volume / e.volume - 1) <= volumeTol)) fault("volume " + number(volume) + " mm3, want " + number(e.volume));
}

std::string judge(const std::string& path, bool strict, const std::map<std::string, Expected>* expected) {
  const Read file = read(path);
  const TopoDS_Shape& shape = file.shape;
  const std::vector<std::string> parts = products(file.document);
  size_t solids = 0;
  for (TopExp_Explorer s(shape, TopAbs_SOLID); s.More(); s.Next(), solids++) closed(s.Current());
  if (solids != parts.size()) fault(std::to_string(solids) + " solids in " + std::to_string(parts.size()) + " parts");
  if (TopExp_Explorer(shape, TopAbs_SHELL, TopAbs_SOLID).More() || TopExp_Explorer(shape, TopAbs_FACE, TopAbs_SHELL).More())
    fault("faces outside of a solid");
  valid(shape, strict);
  const std::array<int, 7> faces = countFaces(shape);
  if (faces[6] > 0) fault(std::to_string(faces[6]) + " faces on other surfaces");
  GProp_GProps properties;
  BRepGProp::VolumeProperties(shape, properties, 1e-9);
  if (!(properties.Mass() > 0)) fault("volume " + number(properties.Mass()) + " mm3");
  if (expected == nullptr) {
    if ((parts.size() > 1) != (baseName(path) == "assembly.step")) fault(std::to_string(parts.size()) + " parts");
  } else {
    const auto e = expected->find(baseName(path));
    if (e == expected->end()) fault("nobody expects it");
    asExpected(e->second, faces, properties.Mass(), parts);
  }
  ShapeAnalysis_ShapeTolerance tolerance;
  double largest = 0;
  for (TopAbs_ShapeEnum type : {TopAbs_VERTEX, TopAbs_EDGE, TopAbs_FACE}) largest = std::max(largest, tolerance.Tolerance(shape, 1, type));
  if (largest > largestTolerance) fault("a tolerance of " + number(largest) + " mm");
  std::string counts;
  for (size_t i = 0; i < 6; i++)
    if (faces[i] > 0) counts += ", " + std::to_string(faces[i]) + " " + kinds[i];
  return std::to_string(solids) + (solids > 1 ? " solids" : " solid") + counts + ", " + number(properties.Mass()) + " mm3, tolerance " + number(largest) + " mm";
}

int main(int argc, char** argv) {
  std::vector<std::string> args(argv + 1, argv + argc);
  bool strict = args.size() > 1 && args[0] == "--strict";
  if (strict) {
    if (!std::ifstream(args[1] + "/STEP")) {
      std::cerr << "stepcheck: no settings in " << args[1] << "\n";
      return 2;
    }
    setenv("CSF_STEPDefaults", args[1].c_str(), 1);
    args.erase(args.begin(), args.begin() + 2);
  }
  if (args.size() < 2) {
    std::cerr << "usage: stepcheck [--strict FOLDER] EXPECTED FILE...\n";
    return 2;
  }
  std::map<std::string, Expected> expected;
  try {
    if (args[0] != "-") expected = readExpected(args[0]);
  } catch (const std::exception& e) {
    std::cerr << "stepcheck: " << e.what() << "\n";
    return 2;
  }
  Message::DefaultMessenger()->RemovePrinters(STANDARD_TYPE(Message_PrinterOStream));
  bool faulty = false;
  const std::string who = strict ? "step, strict: " : "step: ";
  for (size_t i = 1; i < args.size(); i++) {
    std::string found;
    try {
      found = "ok, " + judge(args[i], strict, args[0] == "-" ? nullptr : &expected);
    } catch (const Standard_Failure& e) {
      found = std::string("FAULT ") + e.DynamicType()->Name() + " " + e.GetMessageString();
    } catch (const std::exception& e) {
      found = std::string("FAULT ") + e.what();
    }
    faulty |= found.rfind("FAULT", 0) == 0;
    std::cout << who << args[i] << ": " << found << std::endl;
  }
  return faulty ? 1 : 0;
}
