#include "main/window/open_bundle.hpp"

#include "base/text.hpp"
#include "ledger/store.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
#include "main/ledger/bundle_text.hpp"
#include "main/window/open_window.hpp"
#include "screen/fields/question.hpp"
#include "screen/settings/preferences_file.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <fmt/format.h>
#include <iostream>
#include <unistd.h>

namespace platewright::cli {
namespace {

enum class Asking { terminal, window, nobody };

Asking who_is_asked() {
    if (isatty(STDIN_FILENO) != 0 && isatty(STDOUT_FILENO) != 0)
        return Asking::terminal;
    for (const char* name : {"DISPLAY", "WAYLAND_DISPLAY"})
        if (const char* value = std::getenv(name); value != nullptr && *value != '\0')
            return Asking::window;
    return Asking::nobody;
}

/// How much would be added, kind by kind, in the language of now; empty: nothing.
std::string added_words(const ledger::TakeReport& look) {
    std::string words;
    const auto join = [&words](int count, const auto& one, const auto& more) {
        if (count > 0)
            words += (words.empty() ? "" : ", ") + wording::say_count(count, one, more);
    };
    using Counted = wording::Pattern<1>;
    const std::array<std::pair<Counted, Counted>, 6> k_words{
        {{Counted("{} instrument"), Counted("{} instruments")},
         {Counted("{} plate or body"), Counted("{} plates or bodies")},
         {Counted("{} session"), Counted("{} sessions")},
         {Counted("{} tap"), Counted("{} taps")},
         {Counted("{} wood"), Counted("{} woods")},
         {Counted("{} other entry"), Counted("{} other entries")}}};
    const auto kinds = main_kinds(look);
    for (std::size_t i = 0; i < kinds.size(); ++i)
        join(kinds[i].added, k_words.at(i).first, k_words.at(i).second);
    return words;
}

screen::Question question_on(const std::filesystem::path& file, const ledger::TakeReport& look,
                             const Common& common) {
    screen::Question question{
        wording::say("Take “{}” into your ledger?", file.filename().string()), {}, {}, {}};
    const std::string added = added_words(look);
    question.lines.push_back(
        added.empty() ? wording::say("All of it is in your ledger already; nothing would be added.")
                      : wording::say("It would bring: {}.", added));
    int same = 0;
    for (const ledger::TakeReport::Kind& kind : look.kinds)
        same += kind.same;
    if (same > 0 && !added.empty())
        question.lines.push_back(
            wording::say_count(same, "{} thing is here already and stays as it is.",
                               "{} things are here already and stay as they are."));
    if (!look.differences.empty())
        question.lines.push_back(wording::say_count(
            static_cast<std::int64_t>(look.differences.size()),
            "In {} place the bundle says something else: your ledger's own word stands.",
            "In {} places the bundle says something else: your ledger's own word stands."));
    question.lines.push_back(wording::say("The ledger: {}", common.ledger_folder().string()));
    if (!added.empty()) {
        question.lines.emplace_back(wording::say(
            "What was taken in can be taken out again as a whole: platewright bundle undo."));
        question.yes = wording::say("Take it in");
    }
    question.no = added.empty() ? wording::say("Close") : wording::say("Leave it");
    return question;
}

/// A reason, where a maker who double-clicked sees it, and for the one who calls it.
ExitCode refuse(Asking asked, const std::filesystem::path& file, const std::string& why) {
    complain(why);
    if (asked == Asking::window)
        screen::ask({wording::say("“{}” can't be taken in", file.filename().string()),
                     {why},
                     {},
                     wording::say("Close")});
    return k_unusable;
}

bool said_yes() {
    put("Take it in? [y/N] ");
    std::string answer;
    std::getline(std::cin, answer);
    return std::ranges::count(std::array{"y", "Y", "yes", "j", "J", "ja", "s", "S", "sì", "si"},
                              std::string(base::trimmed(answer))) > 0;
}

} // namespace

ExitCode open_bundle(const std::filesystem::path& file, const Common& common) {
    const Asking asked = who_is_asked();
    const screen::Preferences preferences = screen::read_preferences();
    if (asked == Asking::window)
        wording::speak(screen::language_of(preferences), screen::mark_of(preferences));
    if (const auto zip = ledger::ZipReader::open(file); !zip) // before a ledger is made for it
        return refuse(asked, file, zip.fault().what);
    {
        ledger::Store store = open_to_write(common.ledger_folder());
        if (store.read_only())
            return refuse(asked, file,
                          wording::say("The ledger can only be read now, because {}: close that "
                                       "program first. Nothing was taken in.",
                                       store.why_read_only()));
        const auto look = store.take_bundle(file, {.prefer_bundle = false, .only_look = true});
        if (!look)
            return refuse(asked, file, look.fault().what);
        const screen::Question question = question_on(file, *look, common);
        if (asked == Asking::terminal) {
            say_take_report(*look, {.prefer_bundle = false, .only_look = true});
            if (!question.yes.empty() && !said_yes()) {
                say("Nothing was taken in.");
                return k_done;
            }
        } else if (asked == Asking::nobody) {
            complain(fmt::format("There is nobody to ask here, so nothing was taken in: "
                                 "`platewright bundle in {}` takes it "
                                 "in without asking.",
                                 file.string()));
            return k_failed;
        } else if (!screen::ask(question)) {
            return k_done;
        }
        if (!question.yes.empty()) {
            ProgressLine line("taking in");
            const auto taken = store.take_bundle(file, {}, line.callback());
            line.clear();
            if (!taken)
                return refuse(asked, file, taken.fault().what);
            if (asked == Asking::terminal)
                say("It is in the ledger; `platewright bundle undo` takes it out again.");
        }
    }
    return asked == Asking::window ? open_window({}, common) : k_done;
}

} // namespace platewright::cli
