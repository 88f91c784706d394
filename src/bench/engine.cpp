#include "bench/engine.hpp"
