#pragma once
#include "screen/view_context.hpp"

#include <cstdint>

namespace platewright::screen {

/// The bench's newest notice, one sentence, until it is put away.
class NoticeStrip {
public:
    /// As high as its sentence is long; nothing where none is to be read.
    double height(const ViewContext& context, double width) const;
    void draw(const ViewContext& context, plot::Box box);

private:
    std::int64_t read_ = 0; // number of the newest that was put away
};

} // namespace platewright::screen
