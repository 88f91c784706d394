#pragma once
// Catch2 2.13 (bookworm) has one header, 3.x (trixie) several; tests include this one.
#if __has_include(<catch2/catch_all.hpp>)
#include <catch2/catch_all.hpp>
using Catch::Approx;
#else
#include <catch2/catch.hpp>
#endif
