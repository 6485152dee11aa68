namespace ConsultDesk.Calculations.Envelope;

/// <summary>Direction heat takes through a part of the envelope; from a heated van it rises through the roof.</summary>
public enum HeatFlow
{
    /// <summary>Through a roof of a heated van.</summary>
    Upwards,

    /// <summary>Through walls and glass, within 30 degrees of horizontal.</summary>
    Horizontal,

    /// <summary>Through a floor of a heated van.</summary>
    Downwards,
}
