using UnitsNet;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>A headline number with the band the assumed values leave it in.</summary>
/// <param name="Key">Stable key, for example <c>wet-mornings</c>.</param>
/// <param name="Label">What it is.</param>
/// <param name="Low">Low end.</param>
/// <param name="Likely">With likely assumptions.</param>
/// <param name="High">High end.</param>
/// <param name="MovedMostBy">What was assumed that moves it most, in words.</param>
public sealed record HeadlineBand(string Key, string Label, IQuantity Low, IQuantity Likely, IQuantity High, string MovedMostBy);
