#include "screen/settings_view.hpp"

#include "base/text.hpp"
#include "screen/fields.hpp"
#include "screen/parts.hpp"
#include "screen/typed.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace platewright::screen {
namespace {
using plot::Box;
using wording::DecimalMark;
using wording::Language;

constexpr std::array k_text_sizes{0.75, 1.0, 1.25, 1.5, 1.75, 2.0};
constexpr std::array k_taps_a_spot{0, 1, 2, 3, 5};

/// One of several values, as buttons under a label.
template <class T>
struct Option {
    T value;
    std::string words;
};

template <class T>
void choose(const Sight& sight, std::string_view label, const std::vector<Option<T>>& all,
            T& chosen) {
    std::vector<std::string> words;
    std::size_t index = all.size();
    for (std::size_t i = 0; i < all.size(); ++i) {
        words.push_back(all[i].words);
        index = all[i].value == chosen ? i : index;
    }
    if (flow_choice(sight, label, words, index)) {
        chosen = all[index].value;
    }
}

void yes_or_no(const Sight& sight, std::string_view label, bool& value) {
    choose<bool>(sight, label, {{true, std::string(say("yes"))}, {false, std::string(say("no"))}},
                 value);
}

} // namespace

void SettingsView::draw(const Sight& sight, Box area) {
    const double gap = 10.0 * sight.look.scale;
    const double half = 0.5 * (area.width() - gap);
    of_language(sight, next_column(sight, area, half));
    of_the_bench(sight, next_column(sight, area, half));
}

void SettingsView::of_language(const Sight& sight, const Box& box) {
    const Page page(sight, "window", box);
    Wishes& wishes = sight.wishes;
    heading(sight, say("The window"));
    std::vector<Option<std::optional<Language>>> languages{
        {std::nullopt, std::string(say("the system's"))}};
    for (const Language language : wording::k_languages) {
        languages.push_back({language, std::string(wording::own_name(language))});
    }
    choose(sight, say("language"), languages, wishes.language);
    choose<std::optional<DecimalMark>>(sight, say("decimal mark"),
                                       {{std::nullopt, std::string(say("as in the language"))},
                                        {DecimalMark::point, "0.5"},
                                        {DecimalMark::comma, "0,5"}},
                                       wishes.mark);
    std::vector<Option<double>> sizes;
    for (const double size : k_text_sizes) {
        sizes.push_back({size, figure(100.0 * size, 0) + " %"});
    }
    choose(sight, say("size of the text"), sizes, wishes.text_size);
    choose<bool>(sight, say("light"),
                 {{false, std::string(say("Light"))}, {true, std::string(say("Dark"))}},
                 wishes.dark);
    choose<bool>(sight, say("frequency in spectra"),
                 {{false, std::string(say("linear"))}, {true, std::string(say("logarithmic"))}},
                 wishes.logarithmic);
    notes(sight);
}

void SettingsView::notes(const Sight& sight) {
    Wishes& wishes = sight.wishes;
    yes_or_no(sight, say("note names beside Hz"), wishes.note_names);
    if (pitch_.filled() != wishes.reference_pitch_hz) {
        pitch_ = {wishes.reference_pitch_hz, 1};
    }
    const std::string_view label = say("reference pitch A4, Hz");
    field(sight, label, pitch_.text, 160, false, &pitch_complaint_);
    if (ImGui::IsItemDeactivatedAfterEdit()) {
        const auto typed = base::parse_measure(pitch_.text, "Hz");
        const bool fits = typed && *typed >= k_lowest_pitch_hz && *typed <= k_highest_pitch_hz;
        pitch_complaint_ = {fits ? std::string()
                                 : say("The pitch is a number from {} to {} Hz.",
                                       figure(k_lowest_pitch_hz, 0), figure(k_highest_pitch_hz, 0)),
                            std::string(label), false};
        wishes.reference_pitch_hz = fits ? *typed : wishes.reference_pitch_hz;
    }
}

void SettingsView::of_the_bench(const Sight& sight, const Box& box) {
    const Page page(sight, "answers", box);
    Wishes& wishes = sight.wishes;
    heading(sight, say("The bench"));
    std::vector<Option<int>> counts;
    for (const int count : k_taps_a_spot) {
        counts.push_back({count, count == 0 ? std::string(say("never")) : std::to_string(count)});
    }
    choose(sight, say("go on to the next spot after so many good taps"), counts,
           wishes.taps_a_spot);
    yes_or_no(sight, say("answer each tap with a soft sound"), wishes.answers_aloud);
    faint_text(sight, say("The sound lies above what is listened to, and is no tap."));
    of_the_voice(sight);
    of_the_air(sight);
}

/// What is said aloud, when, in which language and how fast.
void SettingsView::of_the_voice(const Sight& sight) {
    Wishes& wishes = sight.wishes;
    heading(sight, say("Said aloud"));
    yes_or_no(sight, say("say the figures when a session has enough taps"), wishes.says_figures);
    std::vector<Option<std::optional<Language>>> languages{
        {std::nullopt, std::string(say("the window's"))}};
    for (const Language language : wording::k_languages) {
        languages.push_back({language, std::string(wording::own_name(language))});
    }
    choose(sight, say("language of the voice"), languages, wishes.voice_language);
    choose<int>(sight, say("how fast it speaks"),
                {{-40, std::string(say("slowly"))},
                 {0, std::string(say("as it is set up"))},
                 {40, std::string(say("fast"))}},
                wishes.voice_rate);
    if (flow_press(sight, say("Say it once"), "G")) {
        sight.send(bench::command::SayFigures{});
    }
    faint_text(sight, say("G says the figures and the decision at any time; Shift with G switches "
                          "this on and off. While the voice speaks nothing is taken for a tap."));
}

/// The air in which sessions are compared. What was measured stays as it is.
void SettingsView::of_the_air(const Sight& sight) {
    heading(sight, say("One air for all sessions"));
    faint_text(sight, say("Drift, forecast and comparison can be set over to one air, as if every "
                          "session had been held "
                          "in it. Measured masses and modes are kept and shown as they are."));
    if (!air_ || shown_air_.temperature_c != sight.now.air.temperature_c ||
        shown_air_.humidity_pct != sight.now.air.humidity_pct) {
        shown_air_ = sight.now.air;
        air_ = true;
        celsius_ = {shown_air_.temperature_c, 1};
        percent_ = {shown_air_.humidity_pct, 0};
    }
    bool set = field(sight, say("temperature, \u00b0C"), celsius_.text, 160, false, &complaint_);
    set |= field(sight, say("humidity, %"), percent_.text, 160, false, &complaint_);
    bool on = sight.now.in_air;
    yes_or_no(sight, say("set over to this air"), on);
    set |= flow_press(sight, say("Keep this air"));
    if (set || on != sight.now.in_air) {
        const auto celsius = celsius_.number(say("The temperature"), -20, 60, "\u00b0C");
        const auto percent = percent_.number(say("The humidity"), 0, 100, "%");
        complaint_ = !celsius
                         ? Complaint{celsius.fault().what, std::string(say("temperature, \u00b0C"))}
                     : !percent ? Complaint{percent.fault().what, std::string(say("humidity, %"))}
                                : Complaint{};
        if (complaint_.empty()) {
            sight.send(bench::command::SetAir{{celsius->value_or(shown_air_.temperature_c),
                                               percent->value_or(shown_air_.humidity_pct)},
                                              on});
        }
    }
}

} // namespace platewright::screen
