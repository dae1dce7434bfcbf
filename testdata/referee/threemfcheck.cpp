// Judges 3MF files with lib3mf: read in strict mode without a warning, in
// millimeters, with something to build, every mesh manifold and oriented.
//
//   threemfcheck FILE...
//
// Prints a line per file; exits with 1 if one is faulty, 2 if it cannot judge.

#include <Model/COM/NMR_DLLInterfaces.h>

#include <iostream>
#include <stdexcept>
#include <string>

using namespace NMR;

// Owned releases an object of the library.
struct Owned {
  PLib3MFBase* p = nullptr;
  ~Owned() {
    if (p) lib3mf_release(p);
  }
};

void need(LIB3MFRESULT r, const std::string& what) {
  if (r != LIB3MF_OK) throw std::runtime_error(what + " (error " + std::to_string(r) + ")");
}

void readStrictly(PLib3MFModel* model, const char* path) {
  Owned reader;
  need(lib3mf_model_queryreader(model, "3mf", &reader.p), "no reader");
  need(lib3mf_reader_setstrictmodeactive(reader.p, true), "no strict mode");
  if (lib3mf_reader_readfromfileutf8(reader.p, path) != LIB3MF_OK) {
    DWORD code = 0;
    LPCSTR text = nullptr;
    lib3mf_getlasterror(reader.p, &code, &text);
    throw std::runtime_error(text ? text : "cannot be read");
  }
  DWORD warnings = 0;
  need(lib3mf_reader_getwarningcount(reader.p, &warnings), "no count of warnings");
  if (warnings > 0) throw std::runtime_error(std::to_string(warnings) + " warnings on reading");
}

DWORD meshes(PLib3MFModel* model) {
  Owned it;
  need(lib3mf_model_getmeshobjects(model, &it.p), "no objects");
  DWORD n = 0;
  for (BOOL more = false;; n++) {
    need(lib3mf_resourceiterator_movenext(it.p, &more), "no next object");
    if (!more) return n;
    Owned object;
    BOOL sound = false;
    need(lib3mf_resourceiterator_getcurrent(it.p, &object.p), "no object");
    need(lib3mf_meshobject_ismanifoldandoriented(object.p, &sound), "no answer about a mesh");
    if (!sound) throw std::runtime_error("mesh " + std::to_string(n + 1) + " is not manifold and oriented");
  }
}

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
