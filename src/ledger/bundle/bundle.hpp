#pragma once
/// A bundle: one zip file that holds a plate, an instrument or a whole ledger, for another ledger
/// or another program. docs/bundle-format.md describes it. Store::write_bundle and
/// Store::take_bundle make it and take it in.

#include "ledger/files/zip_file.hpp"
#include "ledger/record.hpp"

#include <optional>
#include <string>
#include <vector>

namespace platewright::ledger {

inline constexpr std::string_view k_bundle_format = "platewright.bundle/1";

/// A further file of a bundle, for people: a table as CSV.
struct BundledText {
    std::string name; ///< below `tables/`
    std::string text;
};

struct BundleRequest {
    std::optional<Id> instrument;    ///< nothing: all
    std::optional<Id> plate;         ///< only this one, with its instrument's own entry
    std::vector<BundledText> tables; ///< laid beside, not read again
};

struct BundleReport {
    int instruments = 0, plates = 0, sessions = 0, taps = 0, recordings = 0;
    std::vector<std::string> left_out; ///< recordings that are missing or damaged, by hash
    bool stopped = false;              ///< by `progress`; nothing was written
};

/// What a bundle and this ledger say differently of the same thing. Texts for people.
struct Difference {
    std::string where; ///< "plate “Wren back”, session 2026-03-14"
    std::string what;  ///< "mass_g", or "modes" where they differ as a whole
    std::string here, there;
};

struct TakeOptions {
    bool prefer_bundle = false; ///< take the bundle's word where both differ; a copy is laid aside
    bool only_look = false;     ///< say what would come of it, and change nothing
};

struct TakeReport {
    struct Kind {
        std::string table;  ///< its plural, for people
        int added = 0;      ///< new here
        int same = 0;       ///< there already, alike
        int different = 0;  ///< there already, and not alike
        int in_the_bin = 0; ///< there already, in the bin, where it stays
    };
    std::vector<Kind> kinds; ///< those that the bundle holds, parents first
    int recordings_added = 0, recordings_there = 0;
    int recordings_mended = 0;       ///< damaged or missing here, and put back whole
    int recordings_lacking = 0;      ///< that taps name, and neither the bundle nor the ledger has
    int sessions_with_more_taps = 0; ///< known before, whose modes are to be found anew
    std::vector<Difference> differences;
    bool stopped = false; ///< by `progress`; nothing was changed
};

} // namespace platewright::ledger
