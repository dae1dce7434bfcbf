// What programs that judge 3MF files with lib3mf share: reading strictly, and
// judging every mesh.

#pragma once

#include <Model/COM/NMR_DLLInterfaces.h>

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

inline void need(LIB3MFRESULT r, const std::string& what) {
  if (r != LIB3MF_OK) throw std::runtime_error(what + " (error " + std::to_string(r) + ")");
}

// readStrictly takes no file that lib3mf has to say anything about.
inline void readStrictly(PLib3MFModel* model, const char* path) {
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

// meshes counts the meshes, all of which must be closed.
inline DWORD meshes(PLib3MFModel* model) {
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
