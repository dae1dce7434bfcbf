// Judges binary STL files with CGAL's polygon mesh processing: after corners
// with identical coordinates are welded, a file must be a closed 2-manifold
// without a zero-area facet, that does not intersect itself and bounds a volume
// with its outward side out.
//
//   meshcheck FILE...
//
// Prints a line per file; exits with 1 if one is faulty, 2 if it cannot judge.

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_mesh_processing/measure.h>
#include <CGAL/Polygon_mesh_processing/orientation.h>
#include <CGAL/Polygon_mesh_processing/polygon_soup_to_polygon_mesh.h>
#include <CGAL/Polygon_mesh_processing/self_intersections.h>
#include <CGAL/Polygon_mesh_processing/shape_predicates.h>
#include <CGAL/Surface_mesh.h>

#include <array>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <fstream>
#include <iostream>
#include <iterator>
#include <map>
#include <stdexcept>
#include <string>
#include <vector>

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Point = Kernel::Point_3;
using Mesh = CGAL::Surface_mesh<Point>;
namespace PMP = CGAL::Polygon_mesh_processing;

struct Soup {
  std::vector<Point> points;
  std::vector<std::vector<std::size_t>> facets;
};

// A file's bytes are little endian, as every machine is that runs this.
template <class T>
T at(const std::string& b, std::size_t i) {
  T x;
  std::memcpy(&x, b.data() + i, sizeof x);
  return x;
}

Soup read(const char* path) {
  std::ifstream in(path, std::ios::binary);
  if (!in) throw std::runtime_error("cannot be opened");
  const std::string b{std::istreambuf_iterator<char>(in), {}};
  if (b.size() < 84) throw std::runtime_error("no binary STL");
  const std::size_t n = at<std::uint32_t>(b, 80);
  if (b.size() != 84 + 50 * n) throw std::runtime_error("size does not fit its number of facets");
  Soup s;
  std::map<std::array<float, 3>, std::size_t> place;
  for (std::size_t i = 0; i < n; i++) {
    std::vector<std::size_t> facet;
    for (std::size_t k = 0; k < 3; k++) {
      std::array<float, 3> p;
      for (std::size_t c = 0; c < 3; c++) {
        p[c] = at<float>(b, 84 + 50 * i + 12 + 12 * k + 4 * c) + 0.0f;
        if (!std::isfinite(p[c])) throw std::runtime_error("a coordinate is not finite");
      }
      const auto [it, fresh] = place.emplace(p, s.points.size());
      if (fresh) s.points.emplace_back(p[0], p[1], p[2]);
      facet.push_back(it->second);
    }
    s.facets.push_back(facet);
  }
  return s;
}

std::string judge(const char* path) {
  const Soup s = read(path);
  if (s.facets.empty()) throw std::runtime_error("nothing in it");
  if (!PMP::is_polygon_soup_a_polygon_mesh(s.facets))
    throw std::runtime_error("not an oriented 2-manifold");
  Mesh m;
  PMP::polygon_soup_to_polygon_mesh(s.points, s.facets, m);
  if (!CGAL::is_valid_polygon_mesh(m)) throw std::runtime_error("not a valid mesh");
  if (!CGAL::is_closed(m)) throw std::runtime_error("not closed");
  for (const auto f : faces(m))
    if (PMP::is_degenerate_triangle_face(f, m)) throw std::runtime_error("a facet has no area");
  if (PMP::does_self_intersect(m)) throw std::runtime_error("intersects itself");
  if (!PMP::does_bound_a_volume(m)) throw std::runtime_error("bounds no volume");
  if (!PMP::is_outward_oriented(m)) throw std::runtime_error("inside out");
  const double volume = PMP::volume(m);
  if (!(volume > 0)) throw std::runtime_error("volume " + std::to_string(volume));
  return std::to_string(s.facets.size()) + " facets, volume " + std::to_string(volume);
}

int main(int argc, char** argv) {
  if (argc < 2) {
    std::cerr << "usage: meshcheck FILE...\n";
    return 2;
  }
  bool faulty = false;
  for (int i = 1; i < argc; i++) {
    try {
      const std::string verdict = judge(argv[i]);
      std::cout << "cgal: " << argv[i] << ": ok, " << verdict << std::endl;
    } catch (const std::exception& e) {
      faulty = true;
      std::cout << "cgal: " << argv[i] << ": FAULT " << e.what() << std::endl;
    }
  }
  return faulty ? 1 : 0;
}
