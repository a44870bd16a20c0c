"""Rooms, microphones and the noises of an operating room, laid over windows of speech on the GPU.

All of it is synthetic.
"""

from __future__ import annotations

import math

import torch
from torch import Tensor

RATE = 16_000


def convolve(x: Tensor, kernel: Tensor) -> Tensor:
    """Convolve each row with its kernel, keeping the length."""
    size = x.shape[1] + kernel.shape[1]
    return torch.fft.irfft(torch.fft.rfft(x, size) * torch.fft.rfft(kernel, size), size)[:, : x.shape[1]]


def reverberate(x: Tensor, chance: float) -> Tensor:
    """Put some rows in a room: direct sound and a noise tail that decays in 0.15 to 0.7 s."""
    count = x.shape[0]
    t = torch.arange(int(0.5 * RATE), device=x.device) / RATE
    decay = torch.empty(count, 1, device=x.device).uniform_(0.15, 0.7)
    tail = torch.randn(count, len(t), device=x.device) * torch.exp(-6.9 * t / decay)
    tail[:, : int(0.002 * RATE)] = 0
    tail = tail / tail.pow(2).sum(1, keepdim=True).sqrt()
    kernel = tail * torch.empty(count, 1, device=x.device).uniform_(0.1, 0.8)
    kernel[:, 0] = 1
    chosen = (torch.rand(count, 1, device=x.device) < chance).float()
    wet = convolve(x, kernel)
    wet = wet * (x.pow(2).mean(1, keepdim=True) / wet.pow(2).mean(1, keepdim=True).clamp_min(1e-9)).sqrt()
    return chosen * wet + (1 - chosen) * x


def through_microphone(x: Tensor, chance: float) -> Tensor:
    """Color some rows: a tilt of up to 6 dB an octave, and the band of a poor microphone or line."""
    count = x.shape[0]
    spectrum = torch.fft.rfft(x)
    f = torch.linspace(0, RATE / 2, spectrum.shape[1], device=x.device)[None]
    tilt = torch.empty(count, 1, device=x.device).uniform_(-0.6, 0.6)
    gain = ((f + 50) / 1000) ** tilt
    low = torch.empty(count, 1, device=x.device).uniform_(50, 300)
    high = torch.empty(count, 1, device=x.device).uniform_(3400, 7800)
    gain = gain / (1 + (low / (f + 1)) ** 4).sqrt() / (1 + (f / high) ** 8).sqrt()
    chosen = (torch.rand(count, 1, device=x.device) < chance).float()
    return torch.fft.irfft(spectrum * (chosen * gain + 1 - chosen), x.shape[1])


def room_noise(count: int, length: int, chatter: Tensor, device: str) -> Tensor:
    """Noises, one row each: ventilation, suction, beeps, clinks, mains hum, a shaver's whine, people talking."""
    t = torch.arange(length, device=device) / RATE
    f = torch.linspace(0, RATE / 2, length // 2 + 1, device=device).clamp_min(20)

    def level() -> Tensor:
        return torch.rand(count, 1, device=device) * (torch.rand(count, 1, device=device) < 0.5)

    def drawn(low: float, high: float) -> Tensor:
        return torch.empty(count, 1, device=device).uniform_(low, high)

    def even(rows: Tensor) -> Tensor:
        return rows / rows.pow(2).mean(1, keepdim=True).sqrt().clamp_min(1e-6)

    white = torch.randn(count, length, device=device)
    air = even(torch.fft.irfft(torch.fft.rfft(white) * f ** (-drawn(0, 1.2)), length))
    hiss = even(
        torch.fft.irfft(
            torch.fft.rfft(torch.randn_like(white)) * torch.exp(-(((f - drawn(1500, 5000)) / drawn(600, 2500)) ** 2)),
            length,
        )
    )
    gate = (torch.sin(2 * math.pi * t / drawn(4, 20) + drawn(0, 6)) * 5 + drawn(-4, 3)).clamp(0, 1)
    beep = torch.sin(2 * math.pi * drawn(500, 2000) * t) * (((t + drawn(0, 1)) % drawn(0.6, 1.5)) < 0.09)
    hum = sum((torch.sin(2 * math.pi * 60 * k * t + drawn(0, 6)) / k for k in (1, 2, 3)), torch.zeros_like(white))
    strikes = (torch.rand(count, length, device=device) < 0.4 / RATE).float()
    ring = torch.exp(-35 * t[: RATE // 3]) * torch.sin(2 * math.pi * drawn(1800, 4500) * t[: RATE // 3])
    clinks = convolve(strikes, ring) * 4
    speed = drawn(80, 400) * (1 + 0.1 * torch.sin(2 * math.pi * t * drawn(0.05, 0.8) + drawn(0, 6)))
    phase = 2 * math.pi * torch.cumsum(speed, 1) / RATE
    whine = sum((torch.sin(k * phase + drawn(0, 6)) * drawn(0, 1) for k in range(1, 13)), torch.zeros_like(white))
    runs = (torch.sin(2 * math.pi * t / drawn(3, 12) + drawn(0, 6)) * 8 + drawn(-6, 4)).clamp(0, 1)
    noise = (
        (0.4 + level()) * air
        + level() * hiss * gate
        + level() * beep * 1.5
        + level() * hum * 0.6
        + level() * clinks
        + level() * 0.6 * whine * runs
    )
    return even(noise + level() * 1.2 * even(chatter))


def lay_over(x: Tensor, noise: Tensor, decibels: Tensor) -> Tensor:
    """Add noise so many decibels below the speech."""
    power = x.pow(2).mean(1, keepdim=True).clamp_min(1e-8)
    return x + noise * (power / 10 ** (decibels / 10)).sqrt()
