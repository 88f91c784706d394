#pragma once
#include "report/tables/chart_file.hpp"

#include <filesystem>
#include <optional>

namespace platewright::cli {

/// What `--chart` asks for: nothing where it was not given. Fault: an ending that is none of ours.
inline base::Result<std::optional<report::PictureKind>>
chart_kind(const std::filesystem::path& chart) {
    if (chart.empty())
        return std::optional<report::PictureKind>();
    const auto kind = report::picture_kind(chart);
    if (!kind)
        return kind.fault();
    return std::optional(*kind);
}

} // namespace platewright::cli
