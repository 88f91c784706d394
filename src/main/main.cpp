#include "base/text.hpp"

int main() { return platewright::base::fixed(0, 0) == "0" ? 0 : 1; }
