#include "screen/native_window.hpp"

#include "base/failure.hpp"
#include "screen/window.hpp"
#include "wording/say.hpp"

#include <GLFW/glfw3.h>
#include <imgui.h>
#include <imgui_impl_glfw.h>
#include <imgui_impl_opengl3.h>

#include <algorithm>
#include <array>
#include <mutex>
#include <optional>
#include <string_view>
#include <utility>

namespace platewright::screen {
namespace {

/// Whether there is a window to wake: the bench may publish before it opens and after it closes.
struct Wakeable {
    std::mutex mutex;
    bool open = false;
    void set(bool now) {
        const std::lock_guard lock(mutex);
        open = now;
    }
};
Wakeable& wakeable() {
    static Wakeable only; // GLFW knows one set of events for the whole program
    return only;
}

Happenings& of(GLFWwindow* window) {
    return *static_cast<Happenings*>(glfwGetWindowUserPointer(window));
}

/// Ctrl and the key that writes a z, wherever it is on this keyboard.
bool asks_to_undo(int code, int scancode, int modifiers) {
    const char* letter = glfwGetKeyName(code, scancode);
    return (modifiers & GLFW_MOD_CONTROL) != 0 && letter != nullptr &&
           std::string_view(letter) == "z";
}

constexpr int k_picture = 1;          // what a key does is seen in the next
constexpr int k_clicked_pictures = 2; // until a field that was clicked is known to be written in
constexpr int k_tab_pictures = 3;     // the same for the one that the Tab key goes to

/// Gives the pictures to be drawn before the next key.
int happens_by_key(GLFWwindow* w, int code, int scancode, int action, int modifiers) {
    Happenings& now = of(w);
    if (action == GLFW_PRESS) {
        now.pressed.push_back(code);
    }
    const auto key =
        asks_to_undo(code, scancode, modifiers) ? std::optional(Key::undo) : key_of(code);
    if (code == GLFW_KEY_F12 && action != GLFW_RELEASE) {
        now.keys.type(U'?'); // the guide, as a question mark is
    }
    // Keys that a field is written with belong to the field, all but those that leave it.
    const bool writing = ImGui::GetIO().WantTextInput;
    const bool edits = key && (*key == Key::backspace || *key == Key::left || *key == Key::right ||
                               *key == Key::enter || *key == Key::pedal || *key == Key::home ||
                               *key == Key::end || *key == Key::undo);
    if (key && action != GLFW_RELEASE && !(writing && edits)) {
        now.keys.press(*key);
    }
    ImGui_ImplGlfw_KeyCallback(w, code, scancode, action, modifiers);
    const bool tab = code == GLFW_KEY_TAB;
    if (action == GLFW_RELEASE) { // a key that is down again in the same picture was never up
        return key || tab || (code == GLFW_KEY_SPACE && !writing) ? k_picture : 0;
    }
    return tab ? k_tab_pictures : key ? k_picture : 0;
}

int happens_by_letter(GLFWwindow* w, unsigned letter) {
    const bool writing = ImGui::GetIO().WantTextInput;
    if (!writing) {
        of(w).keys.type(letter);
    }
    ImGui_ImplGlfw_CharCallback(w, letter);
    return writing ? 0 : k_picture;
}

int happens_by_button(GLFWwindow* w, int button, int action, int modifiers, plot::Point at) {
    Happenings& now = of(w);
    const bool pressed = action == GLFW_PRESS;
    if (button >= 0 && button < static_cast<int>(now.held.size())) {
        now.held.at(static_cast<std::size_t>(button)) = pressed;
    }
    now.struck = at;
    ImGui_ImplGlfw_MouseButtonCallback(w, button, action, modifiers);
    return pressed ? k_clicked_pictures : k_picture;
}

/// All that happens waits for its turn; Dear ImGui's own functions are told of it then.
void watch(GLFWwindow* window) {
    constexpr auto of_mouse = InTurn::Kind::of_mouse, of_keyboard = InTurn::Kind::of_keyboard;
    glfwSetKeyCallback(
        window, [](GLFWwindow* w, int code, int scancode, int action, int modifiers) {
            of(w).any = true;
            if (action == GLFW_REPEAT && !of(w).waiting.empty()) {
                return; // a key that is held down runs no further than the pictures
            }
            of(w).waiting.add(of_keyboard,
                              [=] { return happens_by_key(w, code, scancode, action, modifiers); });
        });
    glfwSetCharCallback(window, [](GLFWwindow* w, unsigned letter) {
        of(w).any = true;
        of(w).waiting.add(of_keyboard, [=] { return happens_by_letter(w, letter); });
    });
    glfwSetCursorPosCallback(window, [](GLFWwindow* w, double x, double y) {
        of(w).any = true;
        of(w).pointer = {x, y};
#if IMGUI_VERSION_NUM >= 18700
        of(w).waiting.add(of_mouse, [=] {
            ImGui_ImplGlfw_CursorPosCallback(w, x, y);
            return 0;
        });
#endif
    });
    glfwSetMouseButtonCallback(window, [](GLFWwindow* w, int button, int action, int modifiers) {
        of(w).any = true;
        of(w).waiting.add(of_mouse, [=, at = of(w).pointer] {
            return happens_by_button(w, button, action, modifiers, at);
        });
    });
    glfwSetScrollCallback(window, [](GLFWwindow* w, double across, double down) {
        of(w).any = true;
        of(w).waiting.add(of_mouse, [=] {
            ImGui_ImplGlfw_ScrollCallback(w, across, down);
            return 0;
        });
    });
    glfwSetWindowFocusCallback(window, [](GLFWwindow* w, int has) {
        of(w).any = true;
        of(w).waiting.add(of_keyboard, [=] {
            ImGui_ImplGlfw_WindowFocusCallback(w, has);
            return 0;
        });
    });
    glfwSetCursorEnterCallback(window, [](GLFWwindow* w, int entered) {
        of(w).any = true;
        of(w).waiting.add(of_mouse, [=] {
            ImGui_ImplGlfw_CursorEnterCallback(w, entered);
            return 0;
        });
    });
    glfwSetFramebufferSizeCallback(window, [](GLFWwindow* w, int, int) { of(w).any = true; });
    glfwSetWindowRefreshCallback(window, [](GLFWwindow* w) { of(w).any = true; });
}

/// Whether the middle of the window's upper edge, by which it is moved, would be within reach.
bool is_on_a_screen(const WindowPlace& place) {
    int count = 0;
    GLFWmonitor** all = glfwGetMonitors(&count);
    for (int i = 0; i < count; ++i) {
        int left = 0;
        int top = 0;
        int width = 0;
        int height = 0;
        glfwGetMonitorWorkarea(all[i], &left, &top, &width, &height);
        const int middle = place.left + place.width / 2;
        if (middle >= left && middle < left + width && place.top >= top &&
            place.top < top + height && place.width <= width && place.height <= height) {
            return true;
        }
    }
    return false;
}

base::Failure no_window() {
    const char* detail = nullptr;
    glfwGetError(&detail);
    return base::Failure(
        wording::say("No window can be opened here. Start it on a desktop with OpenGL 3.2, or "
                     "use a command, such as platewright listen; the ledger is untouched."),
        detail != nullptr ? detail : "");
}

} // namespace

std::optional<Key> key_of(int code) {
    if (code >= GLFW_KEY_F13 && code <= GLFW_KEY_F25) {
        return Key::pedal;
    }
    // Delete is "Canc" of Italian keyboards; in a field both stay the field's.
    constexpr std::array<std::pair<int, Key>, 26> k_keys{{
        {GLFW_KEY_F1, Key::f1},
        {GLFW_KEY_F2, Key::f2},
        {GLFW_KEY_F3, Key::f3},
        {GLFW_KEY_F4, Key::f4},
        {GLFW_KEY_F5, Key::f5},
        {GLFW_KEY_F6, Key::f6},
        {GLFW_KEY_F7, Key::f7},
        {GLFW_KEY_F8, Key::f8},
        {GLFW_KEY_F9, Key::f9},
        {GLFW_KEY_F10, Key::f10},
        {GLFW_KEY_F11, Key::f11},
        {GLFW_KEY_ESCAPE, Key::escape},
        {GLFW_KEY_ENTER, Key::enter},
        {GLFW_KEY_KP_ENTER, Key::enter},
        {GLFW_KEY_BACKSPACE, Key::backspace},
        {GLFW_KEY_DELETE, Key::backspace},
        {GLFW_KEY_LEFT, Key::left},
        {GLFW_KEY_RIGHT, Key::right},
        {GLFW_KEY_UP, Key::up},
        {GLFW_KEY_DOWN, Key::down},
        {GLFW_KEY_PAGE_UP, Key::page_up},
        {GLFW_KEY_PAGE_DOWN, Key::page_down},
        {GLFW_KEY_HOME, Key::home},
        {GLFW_KEY_END, Key::end},
        {GLFW_KEY_INSERT, Key::pedal},
        {GLFW_KEY_PAUSE, Key::pedal},
    }};
    const auto* const found = std::ranges::find(k_keys, code, &std::pair<int, Key>::first);
    return found == k_keys.end() ? std::nullopt : std::optional(found->second);
}

NativeWindow::NativeWindow(Happenings& happenings, const WindowPlace& place) {
    if (glfwInit() == GLFW_FALSE) {
        throw no_window();
    }
    glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
    glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 2);
    glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
    glfwWindowHint(GLFW_OPENGL_FORWARD_COMPAT, GLFW_TRUE);
    for (const int unused : {GLFW_DEPTH_BITS, GLFW_STENCIL_BITS, GLFW_ALPHA_BITS}) {
        glfwWindowHint(unused, 0); // all is drawn flat
    }
    const bool noted = place.width > 0 && is_on_a_screen(place);
    window_ = glfwCreateWindow(noted ? place.width : 1280, noted ? place.height : 800,
                               "Platewright", nullptr, nullptr);
    if (window_ == nullptr) {
        const base::Failure failure = no_window();
        glfwTerminate();
        throw failure;
    }
    glfwSetWindowSizeLimits(window_, 640, 400, GLFW_DONT_CARE, GLFW_DONT_CARE);
    if (noted) {
        glfwSetWindowPos(window_, place.left, place.top);
    }
    if (noted && place.whole) {
        glfwMaximizeWindow(window_);
    }
    glfwMakeContextCurrent(window_);
    glfwSwapInterval(1);
    glfwSetWindowUserPointer(window_, &happenings);
    watch(window_);
    IMGUI_CHECKVERSION();
    ImGui::CreateContext();
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr; // nothing of ours moves, so nothing of Dear ImGui's is kept
    io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
    ImGui_ImplGlfw_InitForOpenGL(window_, false); // watch() hands on what happens
    ImGui_ImplOpenGL3_Init("#version 150");
    wakeable().set(true);
}

NativeWindow::~NativeWindow() {
    wakeable().set(false);
    ImGui_ImplOpenGL3_Shutdown();
    ImGui_ImplGlfw_Shutdown();
    ImGui::DestroyContext();
    glfwDestroyWindow(window_);
    glfwTerminate();
}

WindowPlace NativeWindow::place(const WindowPlace& before) const {
    WindowPlace now = before;
    now.whole = glfwGetWindowAttrib(window_, GLFW_MAXIMIZED) == GLFW_TRUE;
    if (!now.whole) {
        glfwGetWindowPos(window_, &now.left, &now.top);
        glfwGetWindowSize(window_, &now.width, &now.height);
    }
    return now;
}

void NativeWindow::toggle_whole_screen() {
    if (glfwGetWindowAttrib(window_, GLFW_MAXIMIZED) == GLFW_TRUE) {
        glfwRestoreWindow(window_);
    } else {
        glfwMaximizeWindow(window_);
    }
}

void NativeWindow::begin_picture(Happenings& happenings) {
    happenings.waiting.pass_on();
    ImGui_ImplGlfw_NewFrame();
#if IMGUI_VERSION_NUM < 18700
    // Before 1.87 it asks where the mouse is and what is held now, however long ago it was pressed.
    ImGuiIO& io = ImGui::GetIO();
    std::ranges::copy(happenings.held, std::begin(io.MouseDown));
    if (happenings.struck) {
        io.MousePos = {static_cast<float>(happenings.struck->x),
                       static_cast<float>(happenings.struck->y)};
    }
#endif
    happenings.struck.reset();
}

void wake_window() {
    const std::lock_guard lock(wakeable().mutex);
    if (wakeable().open) {
        glfwPostEmptyEvent();
    }
}

} // namespace platewright::screen
