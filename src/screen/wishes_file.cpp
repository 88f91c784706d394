#include "screen/wishes_file.hpp"

#include "base/text.hpp"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
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

/// The file's lines: a name and a value each. What is missing or out of range is as made.
class Lines {
public:
    explicit Lines(std::istream& in) {
        std::string name;
        std::string value;
        while (in >> name && std::getline(in >> std::ws, value)) { // a folder may have blanks in it
            values_[name] = value;
        }
    }
    std::string word(const char* name) const {
        const auto found = values_.find(name);
        return found == values_.end() ? std::string() : found->second;
    }
    void yes_no(const char* name, bool& value) const {
        const std::string said = word(name);
        value = said.empty() ? value : said == "yes";
    }
    void number(const char* name, double& value, double low, double high) const {
        value = std::clamp(base::parse_number(word(name)).value_or(value), low, high);
    }
    void whole(const char* name, int& value, int low, int high) const {
        double read = value;
        number(name, read, low, high);
        value = static_cast<int>(read);
    }

private:
    std::map<std::string, std::string> values_;
};

const char* yes_no(bool value) { return value ? "yes" : "no"; }

} // namespace

wording::Language language_of(const Wishes& wishes) {
    return wishes.language.value_or(wording::language_of_surroundings());
}

wording::DecimalMark mark_of(const Wishes& wishes) {
    return wishes.mark.value_or(wording::usual_mark(language_of(wishes)));
}

Wishes read_wishes() {
    Wishes wishes;
    const auto path = wishes_path();
    std::ifstream in(path.value_or(std::filesystem::path()));
    const Lines lines(in);
    lines.yes_no("dark", wishes.dark);
    lines.number("text_size", wishes.text_size, 0.75, 2.0);
    wishes.language = wording::language_from_code(lines.word("language"));
    if (const std::string mark = lines.word("decimal_mark"); !mark.empty()) {
        wishes.mark = mark == "comma" ? wording::DecimalMark::comma : wording::DecimalMark::point;
    }
    lines.number("reference_pitch_hz", wishes.reference_pitch_hz, k_lowest_pitch_hz,
                 k_highest_pitch_hz);
    lines.yes_no("note_names", wishes.note_names);
    lines.yes_no("logarithmic", wishes.logarithmic);
    lines.yes_no("answers_aloud", wishes.answers_aloud);
    lines.whole("taps_a_spot", wishes.taps_a_spot, 0, 20);
    lines.yes_no("says_figures", wishes.says_figures);
    wishes.voice_language = wording::language_from_code(lines.word("voice_language"));
    lines.whole("voice_rate", wishes.voice_rate, -100, 100);
    constexpr int most = 32768; // what X11 can place
    lines.whole("left", wishes.window.left, -most, most);
    lines.whole("top", wishes.window.top, -most, most);
    lines.whole("width", wishes.window.width, 0, most);
    lines.whole("height", wishes.window.height, 0, most);
    lines.yes_no("whole_screen", wishes.window.whole);
    wishes.paper_folder = lines.word("paper_folder");
    lines.yes_no("letter", wishes.letter);
    return wishes;
}

void write_wishes(const Wishes& wishes) {
    const auto path = wishes_path();
    if (!path) {
        return;
    }
    std::error_code ignored;
    std::filesystem::create_directories(path->parent_path(), ignored);
    const std::filesystem::path fresh = path->string() + ".new"; // never half of it in its place
    std::ofstream out(fresh, std::ios::trunc);
    out << "dark " << yes_no(wishes.dark) << "\ntext_size " << base::fixed(wishes.text_size, 3)
        << '\n';
    if (wishes.language) {
        out << "language " << wording::to_code(*wishes.language) << '\n';
    }
    if (wishes.mark) {
        out << "decimal_mark " << (*wishes.mark == wording::DecimalMark::comma ? "comma" : "point")
            << '\n';
    }
    out << "reference_pitch_hz " << base::fixed(wishes.reference_pitch_hz, 2) << "\nnote_names "
        << yes_no(wishes.note_names) << "\nlogarithmic " << yes_no(wishes.logarithmic)
        << "\nanswers_aloud " << yes_no(wishes.answers_aloud) << "\ntaps_a_spot "
        << wishes.taps_a_spot << '\n';
    out << "says_figures " << yes_no(wishes.says_figures) << "\nvoice_rate " << wishes.voice_rate
        << '\n';
    if (wishes.voice_language) {
        out << "voice_language " << wording::to_code(*wishes.voice_language) << '\n';
    }
    out << "letter " << yes_no(wishes.letter) << '\n';
    if (!wishes.paper_folder.empty()) {
        out << "paper_folder " << wishes.paper_folder << '\n';
    }
    const WindowPlace& window = wishes.window;
    if (window.width > 0) {
        out << "left " << window.left << "\ntop " << window.top << "\nwidth " << window.width
            << "\nheight " << window.height << "\nwhole_screen " << yes_no(window.whole) << '\n';
    }
    out.close();
    if (out) {
        std::filesystem::rename(fresh, *path, ignored);
    }
}

} // namespace platewright::screen
