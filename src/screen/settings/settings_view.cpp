#include "screen/settings/settings_view.hpp"

#include "base/text.hpp"
#include "ledger/limits.hpp"
#include "screen/draw/parts.hpp"
#include "screen/fields/fields.hpp"
#include "screen/fields/typed.hpp"

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

void yes_or_no(const ViewContext& context, std::string_view label, bool& value) {
    choose<bool>(context, label, {{true, say("yes")}, {false, say("no")}}, value);
}

/// Each in its own words, after `none`.
std::vector<Option<std::optional<Language>>> languages(std::string_view none) {
    std::vector<Option<std::optional<Language>>> all{{std::nullopt, std::string(none)}};
    for (const Language language : wording::k_languages) {
        all.push_back({language, std::string(wording::own_name(language))});
    }
    return all;
}

} // namespace

void SettingsView::draw(const ViewContext& context, Box area) {
    const double gap = 10.0 * context.look.scale;
    const double half = 0.5 * (area.width() - gap);
    of_language(context, next_column(context, area, half));
    of_the_bench(context, next_column(context, area, half));
}

void SettingsView::of_language(const ViewContext& context, const Box& box) {
    const Page page(context, "window", box);
    Preferences& preferences = context.preferences;
    heading(context, say("The window"));
    choose(context, say("language"), languages(say("the system's")), preferences.language);
    choose<std::optional<DecimalMark>>(context, say("decimal mark"),
                                       {{std::nullopt, say("as in the language")},
                                        {DecimalMark::point, "0.5"},
                                        {DecimalMark::comma, "0,5"}},
                                       preferences.mark);
    std::vector<Option<double>> sizes;
    for (const double size : k_text_sizes) {
        sizes.push_back({size, figure(100.0 * size, 0) + " %"});
    }
    choose(context, say("size of the text"), sizes, preferences.text_size);
    choose<bool>(context, say("light"), {{false, say("Light")}, {true, say("Dark")}},
                 preferences.dark);
    choose<bool>(context, say("frequency in spectra"),
                 {{false, say("linear")}, {true, say("logarithmic")}}, preferences.logarithmic);
    notes(context);
}

void SettingsView::notes(const ViewContext& context) {
    Preferences& preferences = context.preferences;
    yes_or_no(context, say("note names beside Hz"), preferences.note_names);
    if (pitch_.filled() != preferences.reference_pitch_hz) {
        pitch_ = {preferences.reference_pitch_hz, 1};
    }
    const std::string_view label = say("reference pitch A4, Hz");
    field(context, label, pitch_.text, 160, false, &pitch_complaint_);
    if (ImGui::IsItemDeactivatedAfterEdit()) {
        const auto typed = base::parse_measure(pitch_.text, "Hz");
        const bool fits = typed && *typed >= k_lowest_pitch_hz && *typed <= k_highest_pitch_hz;
        pitch_complaint_ = {fits ? std::string()
                                 : say("The pitch is a number from {} to {} Hz.",
                                       figure(k_lowest_pitch_hz, 0), figure(k_highest_pitch_hz, 0)),
                            std::string(label), false};
        preferences.reference_pitch_hz = fits ? *typed : preferences.reference_pitch_hz;
    }
}

void SettingsView::of_the_bench(const ViewContext& context, const Box& box) {
    const Page page(context, "answers", box);
    Preferences& preferences = context.preferences;
    heading(context, say("The bench"));
    std::vector<Option<int>> counts;
    for (const int count : k_taps_a_spot) {
        counts.push_back({count, count == 0 ? say("never") : std::to_string(count)});
    }
    choose(context, say("go on to the next spot after so many good taps"), counts,
           preferences.taps_a_spot);
    yes_or_no(context, say("answer each tap with a soft sound"), preferences.answers_aloud);
    faint_text(context, say("The sound lies above what is listened to, and is no tap."));
    of_the_voice(context);
    of_the_air(context);
}

/// What is said aloud, when, in which language and how fast.
void SettingsView::of_the_voice(const ViewContext& context) {
    Preferences& preferences = context.preferences;
    heading(context, say("Said aloud"));
    yes_or_no(context, say("say the figures when a session has enough taps"),
              preferences.says_figures);
    choose(context, say("language of the voice"), languages(say("the window's")),
           preferences.voice_language);
    choose<int>(context, say("how fast it speaks"),
                {{-40, say("slowly")}, {0, say("as it is set up")}, {40, say("fast")}},
                preferences.voice_rate);
    if (flow_press(context, say("Say it once"), "G")) {
        context.send(bench::command::SayFigures{});
    }
    faint_text(context,
               say("G says the figures and the decision at any time; Shift with G switches this on "
                   "and off. While the voice speaks nothing is taken for a tap."));
}

/// The air in which sessions are compared. What was measured stays as it is.
void SettingsView::of_the_air(const ViewContext& context) {
    heading(context, say("One air for all sessions"));
    faint_text(
        context,
        say("Drift, forecast and comparison can be set over to one air, as if every session had "
            "been held in it. Measured masses and modes are kept and shown as they are."));
    if (!air_ || shown_air_.temperature_c != context.now.air.temperature_c ||
        shown_air_.humidity_pct != context.now.air.humidity_pct) {
        shown_air_ = context.now.air;
        air_ = true;
        celsius_ = {shown_air_.temperature_c, 1};
        percent_ = {shown_air_.humidity_pct, 0};
    }
    bool set = field(context, say("temperature, \u00b0C"), celsius_.text, 160, false, &complaint_);
    set |= field(context, say("humidity, %"), percent_.text, 160, false, &complaint_);
    bool on = context.now.in_air;
    yes_or_no(context, say("set over to this air"), on);
    set |= flow_press(context, say("Keep this air"));
    if (set || on != context.now.in_air) {
        const auto celsius = celsius_.number(say("The temperature"), ledger::k_temperature);
        const auto percent = percent_.number(say("The humidity"), ledger::k_humidity);
        complaint_ = !celsius   ? Complaint{celsius.fault().what, say("temperature, \u00b0C")}
                     : !percent ? Complaint{percent.fault().what, say("humidity, %")}
                                : Complaint{};
        if (complaint_.empty()) {
            context.send(bench::command::SetAir{{celsius->value_or(shown_air_.temperature_c),
                                                 percent->value_or(shown_air_.humidity_pct)},
                                                on});
        }
    }
}

} // namespace platewright::screen
