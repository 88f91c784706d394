#include "main/ledger/bundle_text.hpp"

#include "main/console.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>

namespace platewright::cli {
namespace {

constexpr std::size_t k_shown_differences = 40;

void say_differences(const ledger::TakeReport& report, const ledger::TakeOptions& o) {
    if (report.differences.empty())
        return;
    say(fmt::format("\nWhere the two differ, the {}:",
                    o.prefer_bundle
                        ? "bundle's word was taken; a copy of the ledger's "
                          "database as it was lies in its folder “backups”"
                        : "ledger's own word stands (--prefer-bundle takes the other)"));
    Table table({"where", "what", "here", "in the bundle"});
    for (std::size_t i = 0; i < report.differences.size() && i < k_shown_differences; ++i) {
        const ledger::Difference& d = report.differences[i];
        table.row({d.where, d.what, d.here, d.there});
    }
    say(table.text());
    if (report.differences.size() > k_shown_differences)
        say(fmt::format("  and {} more (--json has them all)",
                        report.differences.size() - k_shown_differences));
}

constexpr std::array<std::string_view, 5> k_main_kinds{"instruments", "plates", "sessions", "taps",
                                                       "woods"};

} // namespace

std::vector<ledger::TakeReport::Kind> main_kinds(const ledger::TakeReport& report) {
    std::vector<ledger::TakeReport::Kind> kinds;
    for (const std::string_view name : k_main_kinds)
        kinds.push_back({.table = std::string(name)});
    ledger::TakeReport::Kind rest;
    for (const ledger::TakeReport::Kind& kind : report.kinds) {
        const auto known = std::ranges::find(kinds, kind.table, &ledger::TakeReport::Kind::table);
        ledger::TakeReport::Kind& into = known == kinds.end() ? rest : *known;
        into.added += kind.added;
        into.same += kind.same;
        into.different += kind.different;
        into.in_the_bin += kind.in_the_bin;
    }
    kinds.push_back(rest);
    return kinds;
}

int in_the_bin(const ledger::TakeReport& report) {
    int things = 0;
    for (const ledger::TakeReport::Kind& kind : report.kinds)
        things += kind.in_the_bin;
    return things;
}

std::vector<std::string> recording_words(const ledger::TakeReport& report) {
    std::vector<std::string> lines;
    if (report.recordings_mended > 0)
        lines.push_back(
            wording::say_count(report.recordings_mended,
                               "{} recording that was damaged or missing here is whole again.",
                               "{} recordings that were damaged or missing here are whole again."));
    if (report.recordings_lacking > 0)
        lines.push_back(wording::say_count(
            report.recordings_lacking, "{} tap came without its recording; its figures are kept.",
            "{} taps came without their recording; their figures are kept."));
    return lines;
}

void say_take_report(const ledger::TakeReport& report, const ledger::TakeOptions& o) {
    Table table({"", "added", "here already", "different", "in the bin here"});
    for (const auto& kind : report.kinds)
        if (kind.added + kind.same + kind.different + kind.in_the_bin > 0)
            table.row({kind.table, std::to_string(kind.added), std::to_string(kind.same),
                       std::to_string(kind.different), std::to_string(kind.in_the_bin)});
    table.row({"recordings", std::to_string(report.recordings_added),
               std::to_string(report.recordings_there), "0", "0"});
    say(table.text());
    say(recording_words(report), "");
    if (report.sessions_with_more_taps > 0)
        say(fmt::format("{} sessions that were here have more taps now: `platewright again --keep` "
                        "finds their modes anew.",
                        report.sessions_with_more_taps));
    if (const int things = in_the_bin(report); things > 0)
        say(fmt::format("{} of it {} in the bin here and {} there, with all that belongs to {}: "
                        "`platewright bin` lists what it holds and puts it back.",
                        things, things == 1 ? "lies" : "lie", things == 1 ? "stays" : "stay",
                        things == 1 ? "it" : "them"));
    say_differences(report, o);
    if (o.only_look)
        say("Nothing was changed: this was only a look.");
}

} // namespace platewright::cli
