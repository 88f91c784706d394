#pragma once
/// Places on a plate, seen from its outside: x across (mm, 0 on the centre line, positive to the
/// right), y along the length (mm, 0 at the lower end), z upwards out of the plate (mm).

namespace platewright::plate {

struct Point {
    bool operator==(const Point&) const = default;
    double x_mm = 0.0;
    double y_mm = 0.0;
};

} // namespace platewright::plate
