// Judges 3MF files with lib3mf: read in strict mode without a warning, in
// millimeters, with something to build, every mesh manifold and oriented.
//
//   threemfcheck FILE...
//
// Prints a line per file; exits with 1 if one is faulty, 2 if it cannot judge.

#include "threemf.hpp"

#include <iostream>

DWORD items(PLib3MFModel* model) {
  Owned it;
  need(lib3mf_model_getbuilditems(model, &it.p), "no items");
  DWORD n = 0;
  for (BOOL more = false;; n++) {
    need(lib3mf_builditemiterator_movenext(it.p, &more), "no next item");
    if (!more) return n;
  }
}

std::string judge(const char* path) {
  Owned model;
  need(lib3mf_createmodel(&model.p), "no model");
  readStrictly(model.p, path);
  DWORD unit = 0;
  need(lib3mf_model_getunit(model.p, &unit), "no unit");
  if (unit != MODELUNIT_MILLIMETER) throw std::runtime_error("not in millimeters");
  const DWORD m = meshes(model.p), n = items(model.p);
  if (m == 0 || n == 0) throw std::runtime_error("nothing to build");
  return std::to_string(n) + " items, " + std::to_string(m) + " meshes";
}

int main(int argc, char** argv) {
  if (argc < 2) {
    std::cerr << "usage: threemfcheck FILE...\n";
    return 2;
  }
  bool faulty = false;
  for (int i = 1; i < argc; i++) {
    try {
      const std::string verdict = judge(argv[i]);
      std::cout << "lib3mf: " << argv[i] << ": ok, " << verdict << std::endl;
    } catch (const std::exception& e) {
      faulty = true;
      std::cout << "lib3mf: " << argv[i] << ": FAULT " << e.what() << std::endl;
    }
  }
  return faulty ? 1 : 0;
}
