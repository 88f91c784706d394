#include "main/tables.hpp"

#include "base/text.hpp"
#include "main/console.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace platewright::cli {

using base::fixed;

std::string taps_table(std::span<const bench::HeardTap> taps) {
    Table table({"tap", "at s", "peak dBFS", "room dBFS", "verdict", "strongest, Hz"});
    for (std::size_t i = 0; i < taps.size(); ++i) {
        const bench::HeardTap& heard = taps[i];
        const auto loudest =
            std::max_element(heard.partials.begin(), heard.partials.end(),
                             [](const auto& a, const auto& b) { return a.level_db < b.level_db; });
        table.row({std::to_string(i + 1), fixed(heard.tap.onset_s(), 3),
                   fixed(heard.tap.peak_dbfs, 1), fixed(heard.tap.noise_dbfs, 1),
                   std::string(taps::to_text(heard.tap.verdict)),
                   loudest == heard.partials.end() ? "–" : fixed(loudest->frequency_hz, 2)});
    }
    return table.text();
}

std::string modes_table(std::span<const modes::NamedMode> modes, bool names) {
    std::vector<std::string> head{"Hz", "± Hz", "spread", "Q", "± Q", "level dB", "taps"};
    if (names)
        head.insert(head.end(), {"mode", "sure %"});
    Table table(head);
    for (const modes::NamedMode& named : modes) {
        const modes::Mode& m = named.mode;
        std::vector<std::string> row{fixed(m.frequency_hz, 2),
                                     fixed(modes::interval(0, m.frequency_sd_hz, m.taps).high, 2),
                                     m.taps > 1 ? fixed(m.spread_hz, 2) : "–",
                                     fixed(m.q, 1),
                                     fixed(modes::interval(0, m.q_sd, m.taps).high, 1),
                                     fixed(m.level_db, 1),
                                     std::to_string(m.taps)};
        if (names) {
            row.push_back(named.name ? modes::mode_text(named.name->number) : "");
            row.push_back(!named.name            ? ""
                          : named.name->by_maker ? "maker's"
                                                 : fixed(100 * named.name->confidence, 0));
        }
        table.row(std::move(row));
    }
    return table.text();
}

std::vector<modes::NamedMode> unnamed(std::span<const modes::Mode> modes) {
    std::vector<modes::NamedMode> list;
    for (const modes::Mode& mode : modes)
        list.push_back({mode, std::nullopt});
    return list;
}

std::string tap_line(const bench::HeardTap& heard) {
    constexpr std::size_t shown = 6;
    std::string line = fmt::format("{:>9} s  {:>6} dBFS  {}", fixed(heard.tap.onset_s(), 3),
                                   fixed(heard.tap.peak_dbfs, 1), taps::to_text(heard.tap.verdict));
    auto partials = heard.partials;
    std::sort(partials.begin(), partials.end(),
              [](const auto& a, const auto& b) { return a.level_db > b.level_db; });
    partials.resize(std::min(partials.size(), shown));
    std::sort(partials.begin(), partials.end(),
              [](const auto& a, const auto& b) { return a.frequency_hz < b.frequency_hz; });
    for (std::size_t i = 0; i < partials.size(); ++i)
        line += (i == 0 ? ": " : ", ") + fixed(partials[i].frequency_hz, 2);
    return partials.empty() ? line : line + " Hz";
}

} // namespace platewright::cli
