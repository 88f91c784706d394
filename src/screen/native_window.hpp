#pragma once
#include "plot/canvas.hpp"
#include "screen/in_turn.hpp"
#include "screen/keys.hpp"
#include "screen/settings/preferences_file.hpp"

#include <array>
#include <optional>
#include <vector>

struct GLFWwindow;

namespace platewright::screen {

/// What happened to the window since the last picture.
struct Happenings {
    Keys keys;
    std::vector<int> pressed; ///< GLFW's numbers of keys
    bool any = true;
    InTurn waiting;
    std::array<bool, 3> held{};        ///< buttons of the mouse
    plot::Point pointer;               ///< where it went last
    std::optional<plot::Point> struck; ///< where a button was pressed or let go for this picture
};

/// What a key of GLFW's number means here; nothing: what it writes, or Dear ImGui's.
std::optional<Key> key_of(int code);

/// GLFW, a window with OpenGL 3.2, and Dear ImGui on it; all given back at the end. What happens to
/// it is noted in `happenings`, and wakes glfwWaitEvents. Throws base::Failure where no window can
/// be opened. Threads: the main thread only.
class NativeWindow {
public:
    NativeWindow(Happenings& happenings, const WindowPlace& place);
    ~NativeWindow();
    NativeWindow(const NativeWindow&) = delete;
    NativeWindow& operator=(const NativeWindow&) = delete;
    GLFWwindow* get() const { return window_; }

    /// Where it stands now; a window over the whole screen keeps the size it had before.
    WindowPlace place(const WindowPlace& before) const;
    void toggle_whole_screen();

    /// In place of ImGui_ImplGlfw_NewFrame: passes on what comes next of what happened.
    static void begin_picture(Happenings& happenings);

private:
    GLFWwindow* window_ = nullptr;
};

} // namespace platewright::screen
