namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// Finds x = g(x) by relaxation with Anderson's acceleration: each step is a mix of the last steps that would have
/// cancelled the last residuals (Anderson 1965, Journal of the ACM 12(4)). Relaxation alone overshoots where flows
/// follow the root of a difference that comes out near zero.
/// </summary>
internal sealed class FixedPoint
{
    private const int Depth = 5;

    // A residual this many times the best so far means that the past no longer tells the way.
    private const double Divergence = 4;

    // An acceleration is believed up to this many residuals, and in any case up to a tenth of a unit of x: where plain
    // steps crawl, the answer lies many residuals away.
    private const double LongestReach = 5;
    private const double ShortReach = 0.1;

    // Further away than this, in units of x, only plain steps are taken.
    private const double NearResidual = 1;

    private readonly int _size;
    private readonly double[][] _stepX;
    private readonly double[][] _stepResidual;
    private readonly double[] _lastX;
    private readonly double[] _lastResidual;
    private readonly double[] _residual;
    private readonly double[] _correction;
    private readonly double[] _normal = new double[Depth * Depth];
    private readonly double[] _weights = new double[Depth];
    private int _kept;
    private int _next;
    private bool _hasLast;
    private bool _lastWasPlain;
    private bool _struggles;
    private double _damping = 1;
    private double _best = double.PositiveInfinity;

    /// <param name="size">Length of x.</param>
    public FixedPoint(int size)
    {
        _size = size;
        _stepX = [.. Enumerable.Range(0, Depth).Select(_ => new double[size])];
        _stepResidual = [.. Enumerable.Range(0, Depth).Select(_ => new double[size])];
        _lastX = new double[size];
        _lastResidual = new double[size];
        _residual = new double[size];
        _correction = new double[size];
    }

    /// <summary>Replaces x by the next guess.</summary>
    /// <param name="x">The last guess.</param>
    /// <param name="image">g of the last guess.</param>
    /// <param name="relaxation">Share of the residual taken in a plain step.</param>
    /// <param name="accelerate">
    /// False for a plain step. Acceleration seeks the smallest residual and can be caught where two answers have just
    /// parted and vanished; plain steps crawl through. From the first of them on, plain steps that leap to and fro about
    /// an answer become half as long.
    /// </param>
    public void Advance(Span<double> x, ReadOnlySpan<double> image, double relaxation, bool accelerate)
    {
        double norm = 0;
        for (int i = 0; i < _size; i++)
        {
            _residual[i] = image[i] - x[i];
            norm = Math.Max(norm, Math.Abs(_residual[i]));
        }

        if (norm > Divergence * _best)
        {
            Forget();
            _best = norm;
        }

        _best = Math.Min(_best, norm);
        if (_struggles && _lastWasPlain && Dot(_residual, _lastResidual) < 0)
        {
            _damping /= 2;
        }

        Remember(x);
        x.CopyTo(_lastX);
        _residual.CopyTo(_lastResidual.AsSpan());
        Weigh();
        double reach = 0;
        for (int i = 0; i < _size; i++)
        {
            double correction = 0;
            for (int k = 0; k < _kept; k++)
            {
                correction -= _weights[k] * (_stepX[k][i] + (relaxation * _stepResidual[k][i]));
            }

            _correction[i] = correction;
            reach = Math.Max(reach, Math.Abs(correction));
        }

        bool trusted = accelerate && norm <= NearResidual && reach <= Math.Max(LongestReach * norm, ShortReach);
        for (int i = 0; i < _size; i++)
        {
            x[i] += trusted ? (relaxation * _residual[i]) + _correction[i] : _damping * relaxation * _residual[i];
        }

        if (!trusted)
        {
            Forget();
        }

        _lastWasPlain = !trusted;
        _struggles |= !accelerate;
    }

    /// <summary>Forgets all steps, for another g.</summary>
    public void Restart()
    {
        Forget();
        _best = double.PositiveInfinity;
        _lastWasPlain = false;
        _struggles = false;
        _damping = 1;
    }

    private void Forget()
    {
        _kept = 0;
        _next = 0;
        _hasLast = false;
    }

    private void Remember(ReadOnlySpan<double> x)
    {
        if (_hasLast)
        {
            for (int i = 0; i < _size; i++)
            {
                _stepX[_next][i] = x[i] - _lastX[i];
                _stepResidual[_next][i] = _residual[i] - _lastResidual[i];
            }

            _next = (_next + 1) % Depth;
            _kept = Math.Min(_kept + 1, Depth);
        }

        _hasLast = true;
    }

    // Least squares of the residual against its last changes, with a whiff of damping where changes are alike.
    private void Weigh()
    {
        for (int a = 0; a < _kept; a++)
        {
            _weights[a] = Dot(_stepResidual[a], _residual);
            for (int b = 0; b < _kept; b++)
            {
                _normal[(a * _kept) + b] = Dot(_stepResidual[a], _stepResidual[b]);
            }
        }

        for (int a = 0; a < _kept; a++)
        {
            _normal[(a * _kept) + a] += (1e-10 * _normal[(a * _kept) + a]) + double.Epsilon;
        }

        if (!LinearSystem.TrySolve(_normal.AsSpan(0, _kept * _kept), _weights.AsSpan(0, _kept), _kept))
        {
            Forget();
        }
    }

    private double Dot(double[] a, double[] b)
    {
        double sum = 0;
        for (int i = 0; i < _size; i++)
        {
            sum += a[i] * b[i];
        }

        return sum;
    }
}
