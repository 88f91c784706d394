#pragma once
#include "plate/shape/outline.hpp"

namespace platewright::test {

/// The usual outline of a violin.
inline const plate::Outline& violin() {
    static const plate::Outline outline =
        *plate::make_outline(plate::usual_size(modes::InstrumentKind::violin));
    return outline;
}

} // namespace platewright::test
