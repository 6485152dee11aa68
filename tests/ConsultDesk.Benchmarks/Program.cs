System.Console.WriteLine("no benchmarks yet");
