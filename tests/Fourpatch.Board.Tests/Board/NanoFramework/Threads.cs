using Fourpatch.Board.Simulation;

namespace System.Threading
{
    internal sealed class Thread
    {
        private readonly ThreadStart _body;

        public Thread(ThreadStart start)
        {
            _body = start;
        }

        public void Start()
        {
            BoardThreads threads = SimulatedBoard.Current.Threads;
            threads.Spawn(() => _body(), threads.Now);
        }

        public static void Sleep(int millisecondsTimeout)
        {
            SimulatedBoard board = SimulatedBoard.Current;
            board.Spend(board.Costs.SmallCall);
            board.Threads.Sleep(millisecondsTimeout < 0 ? -1 : millisecondsTimeout * 1_000_000L);
        }
    }
}
