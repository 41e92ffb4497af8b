using System.Diagnostics.CodeAnalysis;
using Ventwright.Quantities;

namespace Ventwright.Bench.Sensors;

/// <summary>Reads temperatures as they are written beside a sensor: <c>30 degC</c>, <c>30C</c>, <c>86F</c>.</summary>
public static class TemperatureText
{
    /// <summary>Reads one.</summary>
    /// <param name="text">The text.</param>
    /// <param name="kelvin">Temperature, K.</param>
    /// <param name="problem">What is wrong, in words, or null.</param>
    public static bool TryParse(string text, out double kelvin, [NotNullWhen(false)] out string? problem)
    {
        ArgumentNullException.ThrowIfNull(text);
        if (QuantityText.TryParse(text, Dimension.Temperature, out kelvin, out problem)) return true;
        bool letter = text.Length > 1 && text[^1] is 'C' or 'F' && !char.IsLetter(text[^2]);
        return letter && QuantityText.TryParse($"{text[..^1]} deg{text[^1]}", Dimension.Temperature, out kelvin, out problem);
    }
}
