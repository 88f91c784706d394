#pragma once
#include "audio/devices.hpp"
#include "audio/source.hpp"

#include <memory>

namespace platewright::audio {

/// A live input. The audio callback only copies into a SampleRing.
/// Fails: the constructor throws base::Failure with the remedy when the input is not there or does
/// not offer the rate or channel; read throws when no sound has come for a second, or none at all
/// in the first five (the device was unplugged, or the sound server stopped). Open it anew then:
/// devices are listed afresh.
class Capture final : public Source {
public:
    explicit Capture(const InputChoice& choice);
    ~Capture() override;
    double sample_rate_hz() const override;
    Block read() override;
    /// The device in use, by the name that list_inputs gives it.
    const std::string& device_name() const;
    /// How often sound was lost since it was opened.
    std::int64_t overruns() const;

private:
    struct Stream;
    static std::int64_t take_force(Stream& stream);
    std::unique_ptr<Stream> stream_;
};

} // namespace platewright::audio
