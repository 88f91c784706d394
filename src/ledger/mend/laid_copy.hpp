#pragma once
#include "base/clock.hpp"

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>

namespace platewright::ledger {

/// A copy of a ledger's database that lies in its folder.
struct LaidCopy {
    enum class Kind {
        regular,       ///< laid aside as the ledger was used
        before_change, ///< before tables changed, or a bundle's word replaced the ledger's
        replaced,      ///< what lay in a restored copy's place, or was damaged
    };
    std::string name; ///< by which it is asked for
    std::filesystem::path file;
    Kind kind = Kind::regular;
    /// Of regular ones, rising by one each; 0: of the time when days named them. Of replaced ones,
    /// within their day.
    std::int64_t number = 0;
    std::optional<base::Timestamp> made; ///< by the clock of then
    std::uintmax_t bytes = 0;
};

} // namespace platewright::ledger
