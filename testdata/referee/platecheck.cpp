// Judges the loads of a printer's bed with lib3mf: the 3MF files of one folder, in
// which every piece must lie once.
//
//   platecheck X,Y,Z,GAP PIECE,PIECE... FILE...
//
// In a plate-*.3mf every object, where its item's transform puts it, must lie on
// z = 0, between 0 and X, 0 and Y, no higher than Z, and its box no nearer to any
// other than GAP, all in mm. What a too-large-*.3mf holds must not fit on that bed.
// Of other files only the names count.
//
// Prints a line per file; exits with 1 if one is faulty, 2 if it cannot judge.

#include "threemf.hpp"

#include <algorithm>
#include <cmath>
#include <iostream>
#include <limits>
#include <map>
#include <sstream>
#include <vector>

// lib3mf keeps coordinates in single precision, whose last bit is worth 0.24 µm at
// 3 m, the largest bed; a transformed one is rounded a few times.
const double eps = 1e-3;

struct Box {
  std::string name;
  double lo[3], hi[3];
};

struct Bed {
  double size[3], gap;
};

std::string nameOf(PLib3MFModelObjectResource* object) {
  char text[256];
  ULONG needed = 0;
  need(lib3mf_object_getnameutf8(object, text, sizeof text, &needed), "no name");
  return text;
}

// placed is the box of an item's mesh after its transform.
Box placed(PLib3MFModelBuildItem* item) {
  Owned object;
  MODELTRANSFORM t;
  BOOL isMesh = false;
  DWORD n = 0;
  need(lib3mf_builditem_getobjectresource(item, &object.p), "no object");
  need(lib3mf_builditem_getobjecttransform(item, &t), "no transform");
  need(lib3mf_object_ismeshobject(object.p, &isMesh), "no kind");
  if (!isMesh) throw std::runtime_error("an item is no mesh");
  need(lib3mf_meshobject_getvertexcount(object.p, &n), "no vertices");
  const double inf = std::numeric_limits<double>::infinity();
  Box b{nameOf(object.p), {inf, inf, inf}, {-inf, -inf, -inf}};
  for (DWORD i = 0; i < n; i++) {
    MODELMESHVERTEX v;
    need(lib3mf_meshobject_getvertex(object.p, i, &v), "no vertex");
    for (int k = 0; k < 3; k++) {
      double x = t.m_fFields[k][3];
      for (int m = 0; m < 3; m++) x += double(t.m_fFields[k][m]) * v.m_fPosition[m];
      b.lo[k] = std::min(b.lo[k], x);
      b.hi[k] = std::max(b.hi[k], x);
    }
  }
  return b;
}

std::vector<Box> boxes(PLib3MFModel* model) {
  Owned it;
  need(lib3mf_model_getbuilditems(model, &it.p), "no items");
  std::vector<Box> out;
  for (BOOL more = false;;) {
    need(lib3mf_builditemiterator_movenext(it.p, &more), "no next item");
    if (!more) return out;
    Owned item;
    need(lib3mf_builditemiterator_getcurrent(it.p, &item.p), "no item");
    out.push_back(placed(item.p));
  }
}

void lies(const Box& b, const Bed& bed) {
  if (std::abs(b.lo[2]) > eps) throw std::runtime_error(b.name + " stands at z = " + std::to_string(b.lo[2]));
  for (int k = 0; k < 3; k++)
    if (b.lo[k] < -eps || b.hi[k] > bed.size[k] + eps)
      throw std::runtime_error(b.name + " leaves the bed: " + std::to_string(b.lo[k]) + " to " + std::to_string(b.hi[k]) + " along " + "xyz"[k]);
}

void apart(const Box& a, const Box& b, double gap) {
  double d = -std::numeric_limits<double>::infinity();
  for (int k = 0; k < 2; k++) d = std::max({d, a.lo[k] - b.hi[k], b.lo[k] - a.hi[k]});
  if (d < gap - eps) throw std::runtime_error(a.name + " and " + b.name + " are " + std::to_string(d) + " mm apart");
}

// tooLarge: neither as it lies nor turned by a quarter.
void tooLarge(const Box& b, const Bed& bed) {
  const double w = b.hi[0] - b.lo[0], d = b.hi[1] - b.lo[1], h = b.hi[2] - b.lo[2];
  const double x = bed.size[0], y = bed.size[1];
  if (h <= bed.size[2] && ((w <= x && d <= y) || (w <= y && d <= x))) throw std::runtime_error(b.name + " would fit");
}

bool starts(const std::string& s, const std::string& with) { return s.compare(0, with.size(), with) == 0; }

std::string judge(const std::string& path, const Bed& bed, std::map<std::string, int>& seen) {
  Owned model;
  need(lib3mf_createmodel(&model.p), "no model");
  readStrictly(model.p, path.c_str());
  meshes(model.p);
  const std::vector<Box> all = boxes(model.p);
  const std::string file = path.substr(path.find_last_of('/') + 1);
  std::string names;
  for (size_t i = 0; i < all.size(); i++) {
    const Box& b = all[i];
    names += (i ? ", " : "") + b.name;
    if (!seen.count(b.name)) throw std::runtime_error("\"" + b.name + "\" is no piece");
    if (seen[b.name]++) throw std::runtime_error(b.name + " lies twice");
    if (starts(file, "plate-")) {
      lies(b, bed);
      for (size_t k = 0; k < i; k++) apart(all[k], b, bed.gap);
    } else if (starts(file, "too-large-")) {
      tooLarge(b, bed);
    }
  }
  if (all.empty()) throw std::runtime_error("nothing on it");
  return names;
}

int main(int argc, char** argv) {
  Bed bed;
  char comma;
  std::istringstream numbers(argc > 1 ? argv[1] : "");
  if (argc < 4 || !(numbers >> bed.size[0] >> comma >> bed.size[1] >> comma >> bed.size[2] >> comma >> bed.gap)) {
    std::cerr << "usage: platecheck X,Y,Z,GAP PIECE,PIECE... FILE...\n";
    return 2;
  }
  std::map<std::string, int> seen;
  std::istringstream pieces(argv[2]);
  for (std::string name; std::getline(pieces, name, ',');) seen[name] = 0;
  bool faulty = false;
  for (int i = 3; i < argc; i++) {
    try {
      const std::string names = judge(argv[i], bed, seen);
      std::cout << "plates: " << argv[i] << ": ok, " << names << std::endl;
    } catch (const std::exception& e) {
      faulty = true;
      std::cout << "plates: " << argv[i] << ": FAULT " << e.what() << std::endl;
    }
  }
  for (const auto& [name, times] : seen)
    if (times == 0) {
      faulty = true;
      std::cout << "plates: " << argv[3] << " and others: FAULT " << name << " is missing" << std::endl;
    }
  return faulty ? 1 : 0;
}
