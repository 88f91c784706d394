#pragma once
// Catch2 2.13 (bookworm) has one header, 3.x (trixie) several; tests include this one.
#if __has_include(<catch2/catch_all.hpp>)
#include <catch2/catch_all.hpp>
using Catch::Approx;
using Catch::Matchers::ContainsSubstring;
#else
#include <catch2/catch.hpp>
inline auto ContainsSubstring(const std::string& part) { return Catch::Matchers::Contains(part); }
#endif
