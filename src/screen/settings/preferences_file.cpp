#include "screen/settings/preferences_file.hpp"

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

std::optional<std::filesystem::path> preferences_path() {
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

wording::Language language_of(const Preferences& preferences) {
    return preferences.language.value_or(wording::language_of_surroundings());
}

wording::DecimalMark mark_of(const Preferences& preferences) {
    return preferences.mark.value_or(wording::usual_mark(language_of(preferences)));
}

Preferences read_preferences() {
    Preferences preferences;
    const auto path = preferences_path();
    std::ifstream in(path.value_or(std::filesystem::path()));
    const Lines lines(in);
    lines.yes_no("dark", preferences.dark);
    lines.number("text_size", preferences.text_size, 0.75, 2.0);
    preferences.language = wording::language_from_code(lines.word("language"));
    if (const std::string mark = lines.word("decimal_mark"); !mark.empty()) {
        preferences.mark =
            mark == "comma" ? wording::DecimalMark::comma : wording::DecimalMark::point;
    }
    lines.number("reference_pitch_hz", preferences.reference_pitch_hz, k_lowest_pitch_hz,
                 k_highest_pitch_hz);
    lines.yes_no("note_names", preferences.note_names);
    lines.yes_no("logarithmic", preferences.logarithmic);
    lines.yes_no("answers_aloud", preferences.answers_aloud);
    lines.whole("taps_a_spot", preferences.taps_a_spot, 0, 20);
    lines.yes_no("says_figures", preferences.says_figures);
    preferences.voice_language = wording::language_from_code(lines.word("voice_language"));
    lines.whole("voice_rate", preferences.voice_rate, -100, 100);
    constexpr int most = 32768; // what X11 can place
    lines.whole("left", preferences.window.left, -most, most);
    lines.whole("top", preferences.window.top, -most, most);
    lines.whole("width", preferences.window.width, 0, most);
    lines.whole("height", preferences.window.height, 0, most);
    lines.yes_no("whole_screen", preferences.window.whole);
    preferences.paper_folder = lines.word("paper_folder");
    lines.yes_no("letter", preferences.letter);
    return preferences;
}

void write_preferences(const Preferences& preferences) {
    const auto path = preferences_path();
    if (!path) {
        return;
    }
    std::error_code ignored;
    std::filesystem::create_directories(path->parent_path(), ignored);
    const std::filesystem::path fresh = path->string() + ".new"; // never half of it in its place
    std::ofstream out(fresh, std::ios::trunc);
    out << "dark " << yes_no(preferences.dark) << "\ntext_size "
        << base::fixed(preferences.text_size, 3) << '\n';
    if (preferences.language) {
        out << "language " << wording::to_code(*preferences.language) << '\n';
    }
    if (preferences.mark) {
        out << "decimal_mark "
            << (*preferences.mark == wording::DecimalMark::comma ? "comma" : "point") << '\n';
    }
    out << "reference_pitch_hz " << base::fixed(preferences.reference_pitch_hz, 2)
        << "\nnote_names " << yes_no(preferences.note_names) << "\nlogarithmic "
        << yes_no(preferences.logarithmic) << "\nanswers_aloud "
        << yes_no(preferences.answers_aloud) << "\ntaps_a_spot " << preferences.taps_a_spot << '\n';
    out << "says_figures " << yes_no(preferences.says_figures) << "\nvoice_rate "
        << preferences.voice_rate << '\n';
    if (preferences.voice_language) {
        out << "voice_language " << wording::to_code(*preferences.voice_language) << '\n';
    }
    out << "letter " << yes_no(preferences.letter) << '\n';
    if (!preferences.paper_folder.empty()) {
        out << "paper_folder " << preferences.paper_folder << '\n';
    }
    const WindowPlace& window = preferences.window;
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
