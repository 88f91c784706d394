#include "screen/wishes_file.hpp"

#include "base/text.hpp"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <optional>
#include <string>

namespace platewright::screen {
namespace {

std::optional<std::filesystem::path> wishes_path() {
    if (const char* config = std::getenv("XDG_CONFIG_HOME"); config != nullptr && *config != '\0') {
        return std::filesystem::path(config) / "platewright" / "window";
    }
    if (const char* home = std::getenv("HOME"); home != nullptr && *home != '\0') {
        return std::filesystem::path(home) / ".config" / "platewright" / "window";
    }
    return std::nullopt;
}

} // namespace

Wishes read_wishes() {
    Wishes wishes;
    const auto path = wishes_path();
    std::ifstream in(path.value_or(std::filesystem::path()));
    std::string name;
    std::string value;
    while (in >> name >> value) {
        if (name == "dark") {
            wishes.dark = value == "yes";
        } else if (name == "text_size") {
            wishes.text_size = std::clamp(base::parse_number(value).value_or(1.0), 0.75, 2.0);
        }
    }
    return wishes;
}

void write_wishes(const Wishes& wishes) {
    const auto path = wishes_path();
    if (!path) {
        return;
    }
    std::error_code ignored;
    std::filesystem::create_directories(path->parent_path(), ignored);
    std::ofstream out(*path, std::ios::trunc);
    out << "dark " << (wishes.dark ? "yes" : "no") << "\ntext_size "
        << base::fixed(wishes.text_size, 3) << '\n';
}

} // namespace platewright::screen
