# Every outside library, found as a Debian package; third_party/README.md says why each is here.
# Each becomes one target named dep::<library>, so that rooms link names and never flags.
find_package(PkgConfig REQUIRED)
find_package(Threads REQUIRED)
find_package(OpenGL REQUIRED)

foreach(pair
    "portaudio=portaudio-2.0>=19" "kissfft=kissfft-float" "imgui=imgui>=1.86" "glfw=glfw3>=3.3"
    "eigen=eigen3>=3.4" "sndfile=sndfile>=1.1" "sqlite=sqlite3>=3.40" "cairo=cairo>=1.16"
    "pango=pangocairo>=1.50" "fmt=fmt>=9" "crypto=libcrypto>=3" "zip=libzip>=1.7"
    "speechd=speech-dispatcher>=0.11")
  string(REGEX MATCH "^([a-z]+)=(.*)$" _ ${pair})
  set(name ${CMAKE_MATCH_1})
  pkg_check_modules(${name} REQUIRED IMPORTED_TARGET GLOBAL ${CMAKE_MATCH_2})
  add_library(dep::${name} ALIAS PkgConfig::${name})
endforeach()

# Header-only, without pkg-config files in every release.
find_path(CLI11_INCLUDE CLI/CLI.hpp REQUIRED)
find_path(JSON_INCLUDE nlohmann/json.hpp REQUIRED)
find_path(SPECTRA_INCLUDE Spectra/SymGEigsShiftSolver.h REQUIRED)
find_path(BOOST_INCLUDE boost/math/distributions/students_t.hpp REQUIRED)
foreach(pair "cli11=${CLI11_INCLUDE}" "json=${JSON_INCLUDE}" "spectra=${SPECTRA_INCLUDE}"
             "boostmath=${BOOST_INCLUDE}")
  string(REGEX MATCH "^([a-z0-9]+)=(.*)$" _ ${pair})
  add_library(dep_${CMAKE_MATCH_1} INTERFACE)
  target_include_directories(dep_${CMAKE_MATCH_1} SYSTEM INTERFACE ${CMAKE_MATCH_2})
  add_library(dep::${CMAKE_MATCH_1} ALIAS dep_${CMAKE_MATCH_1})
endforeach()

# Debian ships the GLFW and OpenGL back ends of Dear ImGui inside its library, headers under backends/.
find_path(IMGUI_BACKENDS imgui_impl_glfw.h PATH_SUFFIXES imgui/backends imgui REQUIRED)
add_library(dep_imgui_window INTERFACE)
target_include_directories(dep_imgui_window SYSTEM INTERFACE ${IMGUI_BACKENDS})
target_link_libraries(dep_imgui_window INTERFACE dep::imgui dep::glfw OpenGL::GL)
add_library(dep::imgui_window ALIAS dep_imgui_window)

# Catch2: 2.13 on bookworm, 3 on trixie; tests/support/catch.hpp hides the difference.
find_package(Catch2 REQUIRED)
find_package(benchmark QUIET)
